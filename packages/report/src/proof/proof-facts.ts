import type { Shop } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { channelLetter, statesShown } from '../states-shown.ts';
import { figureFacts, type FigureFact } from './figure-facts.ts';
import { findingFacts, foundFacts, verdictFact, type FindingFact, type VerdictFact } from './finding-facts.ts';
import { measuredFacts, measuredWords } from './measured-facts.ts';
import { assumptions, notMeasured, safety, scope } from './open-facts.ts';
import { leftFacts, partFacts, type LeftFact, type PartFact } from './part-facts.ts';
import type { ProofContent, ProofInput } from './proof-content.ts';
import {
  heardWords,
  meterWords,
  readingFacts,
  voltageFacts,
  voltageHeads,
  type ReadingFact,
  type VoltageFact,
} from './reading-facts.ts';

/**
 * All that a proof prints but its figure, every number in the digits in which it is printed: the same files give the same facts on any
 * machine, and a digest of them tells whether one was changed.
 */
export interface ProofFacts {
  readonly proof: 1;
  /** Version of the program. */
  readonly version: string;
  readonly shop: Shop | null;
  readonly title: string;
  readonly board: string;
  /** `model`, `serial` … with what the job says. */
  readonly about: readonly (readonly [name: string, text: string])[];
  readonly complaint: string | null;
  readonly verdict: VerdictFact;
  readonly states: readonly string[];
  readonly channels: readonly string[];
  readonly figures: readonly FigureFact[];
  /** Measured as rebuilt, by a figure's label and channel; null where nothing was. */
  readonly measured: Readonly<Record<string, readonly string[]>> | null;
  readonly measuring: readonly string[];
  readonly parts: readonly PartFact[];
  readonly left: readonly LeftFact[];
  readonly voltages: {
    readonly meter: string;
    readonly channels: readonly string[];
    readonly rows: readonly VoltageFact[];
  };
  readonly readings: readonly ReadingFact[];
  readonly meters: readonly string[];
  readonly heard: readonly string[];
  readonly findings: readonly FindingFact[];
  readonly found: readonly { readonly level: FindingFact['level']; readonly words: string }[];
  readonly notMeasured: readonly string[];
  readonly assumptions: readonly string[];
  readonly safety: readonly string[];
  readonly scope: readonly string[];
  readonly inputs: readonly ProofInput[];
}

export function proofFacts(content: ProofContent): ProofFacts {
  const { version, shop, answer, sheet, volts, shared, rounds, inputs } = content;
  return {
    proof: 1,
    version,
    shop,
    title: answer.title,
    board: sheet.board,
    about: aboutFacts(content),
    complaint: sheet.complaint,
    verdict: verdictFact(answer),
    states: statesShown(answer).map(([state]) => state),
    channels: answer.channels.map(channelLetter),
    figures: figureFacts(answer),
    measured: measuredFacts(content),
    measuring: measuredWords(answer),
    parts: partFacts(sheet),
    left: leftFacts(sheet),
    voltages: {
      meter: printQuantity(volts.meterOhms, 'Ω'),
      channels: voltageHeads(volts),
      rows: voltageFacts(volts, shared),
    },
    readings: readingFacts(rounds, answer),
    meters: meterWords(rounds),
    heard: heardWords(rounds),
    findings: findingFacts(answer),
    found: foundFacts(answer),
    notMeasured: notMeasured(content),
    assumptions: assumptions(content),
    safety: safety(sheet),
    scope,
    inputs,
  };
}

/** The text that a check code is made of: every fact but the program's version. */
export function checkText({ version: _, ...facts }: ProofFacts): string {
  return JSON.stringify(facts);
}

function aboutFacts({ sheet: { unit, date, technician } }: ProofContent): ProofFacts['about'] {
  const all: readonly (readonly [string, string | number | null | undefined])[] = [
    ['unit', unit.model],
    ['serial', unit.serial],
    ['made', unit.made],
    ['date', date],
    ['technician', technician],
  ];
  return all.flatMap(([name, text]) => (text === undefined || text === null ? [] : [[name, String(text)] as const]));
}
