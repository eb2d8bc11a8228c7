import { adapterAnswer, adapterBoard, designAdapter, type Shaping } from '@curvewright/capture';
import type { Series } from '@curvewright/quantity';
import { adapterPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, unreadable, writeNew } from '../files.ts';

export interface SignalAdapterOptions {
  readonly json?: boolean;
  readonly shape: Shaping;
  /** Ω */
  readonly generator: number;
  readonly load: number;
  /** dB at 1 kHz; what suits the shape where silent. */
  readonly attenuation?: number;
  readonly series: Series;
}

/** dB that bring a line output to a cartridge's level at 1 kHz: alone, or with a signal that is shaped and so lies low at 1 kHz already. */
const usualAttenuation: Readonly<Record<Shaping, number>> = { inverse_riaa: 42, flat: 20 };

/** Designs an adapter from preferred values and writes it as a board file. */
export function signalAdapter(file: string, options: SignalAdapterOptions, desk: Desk): Status {
  const { shape: shaping, generator, load, series, json = false } = options;
  const surroundings = { generator, load };
  const attenuationDb = options.attenuation ?? usualAttenuation[shaping];
  const adapter = designAdapter({ ...surroundings, shaping, attenuationDb, series });
  if (adapter === null) {
    desk.complain(
      `no adapter of preferred values takes ${attenuationDb} dB off and keeps its curve between these impedances; ` +
        'write an --attenuation from 30 dB to 60 dB (flat: 10 dB to 60 dB), or a lower --generator',
    );
    return 2;
  }
  try {
    writeNew(file, adapterBoard(adapter, surroundings));
  } catch (trouble) {
    return refuse(desk, unreadable(file, reasonOf(trouble)).diagnostics, json);
  }
  const answer = { file, ...adapterAnswer(adapter, surroundings) };
  if (json) printJson(desk, answer);
  else desk.out(adapterPage(answer, desk));
  return 0;
}
