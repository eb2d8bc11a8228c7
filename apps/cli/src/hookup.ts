import type { Outcome } from '@curvewright/board';
import { statedAdapterDb, type Hookup, type Shaping } from '@curvewright/capture';
import { gainReader, headroom } from '@curvewright/verify';
import { stageOf } from './stage-of.ts';

/** What a person says of player, adapter, board and recorder; what is left out is as is usual. */
export interface HookupOptions {
  /** V rms of a full-scale sine. */
  readonly player?: number;
  /** Ω */
  readonly generator?: number;
  /** The adapter's own board file; or what is known of it. */
  readonly adapter?: string;
  readonly ratio?: number;
  readonly adapterIn?: number;
  readonly adapterOut?: number;
  /** Ω of the phono input. */
  readonly load?: number;
  /** The board or job on the bench; or what is known of it. */
  readonly board?: string;
  /** dB */
  readonly gain?: number;
  /** V */
  readonly overload?: number;
  /** V rms of a sine that is full scale. */
  readonly recorder?: number;
}

/** Where nothing is said (common practice, no source): a headphone or line output, a plain divider, an ordinary equaliser, a line input. */
const usual = {
  player: 1,
  generator: 100,
  ratio: 10,
  adapterIn: 4700,
  adapterOut: 430,
  load: 47_000,
  gain: 40,
  overload: 50e-3,
  recorder: 1,
};

/** Every figure that the levels rest on, stated or usual, in SI units. */
export interface HookupFigures {
  readonly playerVolts: number;
  readonly generatorOhms: number;
  readonly loadOhms: number;
  readonly recorderVolts: number;
  readonly adapter:
    { readonly file: string } | { readonly ratio: number; readonly inputOhms: number; readonly outputOhms: number };
  /** At 1 kHz. */
  readonly adapterGainDb: number;
  readonly adapterShaping: Shaping;
  readonly boardFile: string | null;
  readonly boardGainDb: number;
  readonly overloadVolts: number;
}

/** The way from player to recorder, from files where they are named. */
export function hookupOf(
  options: HookupOptions,
): Outcome<{ readonly hookup: Hookup; readonly figures: HookupFigures }> {
  const stated = { ...usual, ...options };
  const adapter = adapterOf(stated);
  if (!adapter.ok) return adapter;
  const board = boardOf(stated);
  if (!board.ok) return board;
  const { gainDb: adapterDb, is } = adapter.value;
  const { gainDb: boardGainDb, overloadVolts } = board.value;
  const { player: playerVolts, recorder: recorderVolts } = stated;
  return {
    ok: true,
    value: {
      hookup: { playerVolts, adapterDb, boardGainDb, overloadVolts, recorderVolts },
      figures: {
        playerVolts,
        generatorOhms: stated.generator,
        loadOhms: stated.load,
        recorderVolts,
        adapter: is,
        adapterGainDb: adapterDb(1000),
        adapterShaping: shapingOf(adapterDb),
        boardFile: options.board ?? null,
        boardGainDb,
        overloadVolts,
      },
    },
  };
}

type Stated = HookupOptions & typeof usual;

interface AdapterGain {
  readonly gainDb: (hz: number) => number;
  readonly is: HookupFigures['adapter'];
}

/** A board file of an adapter has generator and load in it. Of two channels the louder one counts. */
function adapterOf({ adapter: file, ratio, adapterIn, adapterOut, generator, load }: Stated): Outcome<AdapterGain> {
  if (file === undefined) {
    const stated = { ratio, inputOhms: adapterIn, outputOhms: adapterOut };
    const gainDb = statedAdapterDb(stated, generator, load);
    return { ok: true, value: { gainDb: () => gainDb, is: stated } };
  }
  const solved = stageOf(file, {});
  if (!solved.ok) return solved;
  const { stage } = solved.value;
  const reader = gainReader(stage, 'riaa');
  const gainDb = (hz: number): number => Math.max(...stage.circuit.channels.map((_, n) => reader.gainDb(n, hz)));
  return { ok: true, value: { gainDb, is: { file } } };
}

interface BoardFigures {
  readonly gainDb: number;
  readonly overloadVolts: number;
}

/** Of two channels the louder one counts, and the one that overloads first. */
function boardOf({ board: file, gain, overload }: Stated): Outcome<BoardFigures> {
  if (file === undefined) return { ok: true, value: { gainDb: gain, overloadVolts: overload } };
  const solved = stageOf(file, {});
  if (!solved.ok) return solved;
  const { stage } = solved.value;
  const reader = gainReader(stage, 'riaa');
  const gainDb = Math.max(...stage.circuit.channels.map((_, n) => reader.gainDb(n, 1000)));
  const found = headroom(stage, [1000]).channels.map(
    ({ overload: [at1kHz] }) => at1kHz?.inputMv ?? at1kHz?.triedMv ?? 0,
  );
  return { ok: true, value: { gainDb, overloadVolts: Math.min(...found) / 1000 } };
}

/** Nearer to the cut of a record than to a straight line: an adapter that shapes. From 100 Hz to 10 kHz a record's cut rises by 26.8 dB. */
function shapingOf(adapterDb: (hz: number) => number): Shaping {
  return adapterDb(10_000) - adapterDb(100) > 13 ? 'inverse_riaa' : 'flat';
}
