import { readYaml, type Diagnostic, type Outcome } from '@curvewright/board';
import { z } from 'zod';
import type { Segment, SignalPlan } from './signal-plan.ts';

// JSON is YAML, whose reader knows where everything stands; it hands every number on as the text it was.
const number = z.union([z.string(), z.number()]).pipe(z.coerce.number()).pipe(z.number());
const above0 = number.refine((value) => value > 0);
const from0 = number.refine((value) => value >= 0);

const stretch = { at: from0, seconds: above0, feeds: z.enum(['left', 'right', 'both']) };
const range = { fromHz: above0, toHz: above0 };

const segment: z.ZodType<Segment> = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('marker'), role: z.enum(['start', 'end']), ...stretch, ...range }),
  z.object({ kind: z.literal('level'), ...stretch, hz: above0 }),
  z.object({ kind: z.literal('sweep'), ...stretch, ...range, fadeInSeconds: from0, fadeOutSeconds: from0 }),
  z.object({
    kind: z.literal('tones'),
    ...stretch,
    tones: z.array(z.object({ hz: above0, at: from0, seconds: above0 })).min(1),
  }),
  z.object({ kind: z.literal('silence'), ...stretch }),
]);

/** More than an hour at the fastest converters is no test signal that was written here. */
const mostFrames = 3600 * 192_000;

const plan: z.ZodType<SignalPlan> = z
  .object({
    signal: z.union([z.literal('1'), z.literal(1)]).transform(() => 1 as const),
    rate: above0.refine((rate) => Number.isInteger(rate)),
    seconds: above0,
    shaping: z.enum(['flat', 'inverse_riaa']),
    levelDbfs: number.refine((db) => db <= 0),
    peakDbfs: number,
    segments: z.array(segment).min(1),
  })
  .refine(({ rate, seconds }) => rate * seconds <= mostFrames, { path: ['seconds'] })
  .superRefine(({ seconds, segments }, context) => {
    segments.forEach((each, n) => {
      if (each.at + each.seconds > seconds) context.addIssue({ code: 'custom', path: ['segments', n, 'seconds'] });
      const inside =
        each.kind !== 'tones' ||
        each.tones.every((tone) => tone.at >= each.at && tone.at + tone.seconds <= each.at + each.seconds);
      if (!inside) context.addIssue({ code: 'custom', path: ['segments', n, 'tones'] });
    });
  });

/** Reads a plan as it was written beside its WAV file; a file that was changed since is refused at the place that is wrong. */
export function readSignalPlan(text: string, file: string): Outcome<SignalPlan> {
  const yaml = readYaml(text, file);
  if (yaml.diagnostics.length > 0) return { ok: false, diagnostics: yaml.diagnostics };
  const parsed = plan.safeParse(yaml.value);
  if (parsed.success) return { ok: true, value: parsed.data };
  const diagnostics = parsed.error.issues.map(({ path }): Diagnostic => {
    const key = path.length === 0 ? 'the file' : path.join('.');
    return {
      code: 'wrong-form',
      place: yaml.placeOf(path, 'value'),
      message: `${key} is not as a signal's plan has it; name the .signal.json that was written with the recording's test signal`,
    };
  });
  return { ok: false, diagnostics };
}
