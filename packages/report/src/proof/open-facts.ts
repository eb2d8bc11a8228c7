import type { ReworkSheet, SpreadAnswer } from '@curvewright/verify';
import { placeWords } from '../finding-groups.ts';
import { refRuns } from '../ref-runs.ts';
import { statesShown } from '../states-shown.ts';
import type { ProofContent } from './proof-content.ts';

/** What nobody measured, so that nobody takes a computed figure for a reading. */
export function notMeasured({ answer, rounds, sheet }: ProofContent): readonly string[] {
  const { states, findings } = answer;
  const [last] = statesShown(answer).at(-1) ?? ['drawn'];
  const after = rounds.filter(({ round }) => round.state === last).map(({ round }) => round);
  const isRead = (name: 'hiss' | 'hum' | 'pops'): boolean =>
    after.some((round) => round[name] !== undefined) ||
    (name === 'hiss' && states.measured?.channels.some(({ hissUv }) => hissUv !== null) === true);
  const noise = (['hiss', 'hum', 'pops'] as const).filter((name) => !isRead(name));
  const missing = findings.filter(({ counts, level }) => counts && level === 'not measured');
  return [
    states.measured?.state === last
      ? 'Whatever has no figure in the measured columns: it is computed.'
      : `Response, gain, balance, crosstalk, overload and distortion as ${last}: no recording was made; the figures are computed.`,
    ...(after.some(({ volts }) => volts.length > 0) ? [] : [`Voltages as ${last}: none was read; they are computed.`]),
    ...(noise.length === 0
      ? []
      : [`${sentenceStart(listed(noise))} as ${last}: not measured by ear, meter or recording.`]),
    ...missing.map(
      ({ ref, channel, ...finding }) =>
        `${ref}: ${placeWords({ ref, channel, ...finding }, [channel])}: what it is rated for or its size is not stated.`,
    ),
    ...(states.found === null || states.found.assumed.length === 0
      ? []
      : [`Taken as drawn, since nothing was read on them: ${refRuns(states.found.assumed)}.`]),
    ...(sheet.untouched === 0 ? [] : [`${sheet.untouched} positions of which the job does not speak.`]),
  ];
}

/** What the figures lean on. */
export function assumptions({ answer, spread }: ProofContent): readonly string[] {
  const shown = statesShown(answer);
  const notes = [...new Set(shown.flatMap(([, { notes: own }]) => own))];
  const ideal = shown.at(-1)?.[1].ideal ?? [];
  return [
    ...notes.map((note) => `${note}.`),
    ...(answer.unsolved.length === 0
      ? []
      : [`As found there is no bias: ${answer.unsolved.map(({ message }) => message).join('; ')}.`]),
    ...(ideal.length === 0
      ? []
      : [
          `Taken as ideal, since no file states it: ${ideal.map(({ figure, refs }) => `${figure} (${refRuns(refs)})`).join('; ')}.`,
        ]),
    ...(spread === null ? [] : [bandWords(spread)]),
  ];
}

/** Where the band of the figure comes from. */
function bandWords({ boards, seed, noBias, byBuild }: SpreadAnswer): string {
  const usual = byBuild.length === 0 ? '' : ', where none is stated those usual for their build';
  const without = noBias === 0 ? '' : `; ${noBias} of them found no bias`;
  return `Band of the figure: ${boards} boards drawn within their parts’ tolerances${usual} (seed ${seed})${without}.`;
}

/** What this sheet does not speak of. */
export const scope: readonly string[] = [
  'Software cannot prove a unit safe. This sheet says nothing of insulation, earthing, mains wiring, fuses or heat: they are for a test by somebody licensed for it, under the local codes.',
  'Figures are computed from the files named below, as far as they are not called read or measured. Hum and crosstalk are those of the circuit alone: pick-up, wiring and earth loops are not in them.',
];

/** Of the people who work on it. */
export function safety({ cautions }: ReworkSheet): readonly string[] {
  return cautions;
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

function sentenceStart(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
