import type { Circuit } from '@curvewright/board';

/** Everything of a channel but its name and its parts' designators: channels of equal content answer alike. */
export function channelContent({ channels, parts }: Circuit, index: number): string {
  const { name, input, output, load } = channels[index] ?? {};
  const own = parts.filter(({ channel }) => channel === name);
  const bare = (key: string, value: unknown): unknown => {
    if (['ref', 'position', 'place', 'channel', 'name'].includes(key)) return undefined;
    return typeof value === 'string' ? value.replace(`@${name}`, '@') : value;
  };
  return JSON.stringify({ input, output, load, own }, bare);
}

/** The part of one channel that stands where a part of its twin does. */
export function twinPart({ channels, parts }: Circuit, ref: string, from: number, to: number): string {
  const refsOf = (index: number): readonly string[] =>
    parts.filter(({ channel }) => channel === channels[index]?.name).map((part) => part.ref);
  return refsOf(to)[refsOf(from).indexOf(ref)] ?? ref;
}
