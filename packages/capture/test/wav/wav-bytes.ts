/** RIFF files put together by hand from the 1991 specification, sound or as broken as a test wants them. */
export function riff(
  chunks: readonly Uint8Array[],
  { kind = 'RIFF', size }: { kind?: string; size?: number } = {},
): Uint8Array {
  const body = join([ascii('WAVE'), ...chunks]);
  return join([ascii(kind), u32(size ?? body.length), body]);
}

export function chunk(
  id: string,
  content: Uint8Array,
  { padded = true, size }: { padded?: boolean; size?: number } = {},
): Uint8Array {
  const padding = padded && content.length % 2 === 1 ? [new Uint8Array(1)] : [];
  return join([ascii(id), u32(size ?? content.length), content, ...padding]);
}

interface Format {
  readonly tag?: number;
  readonly channels?: number;
  readonly rate?: number;
  readonly bits?: number;
  readonly frameBytes?: number;
}

export function fmt({
  tag = 1,
  channels = 1,
  rate = 48_000,
  bits = 16,
  frameBytes = (channels * bits) / 8,
}: Format = {}): Uint8Array {
  return chunk('fmt ', join([u16(tag), u16(channels), u32(rate), u32(rate * frameBytes), u16(frameBytes), u16(bits)]));
}

/** WAVEFORMATEXTENSIBLE; `sub` is the tag in its GUID, `valid` the bits that count. */
export function extensibleFmt({ tag: sub = 1, valid = 0, ...format }: Format & { valid?: number } = {}): Uint8Array {
  const plain = fmt({ ...format, tag: 0xfffe }).subarray(8);
  const guid = join([u16(sub), Uint8Array.of(0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71)]);
  return chunk('fmt ', join([plain, u16(22), u16(valid), u32(0), guid]));
}

export function ascii(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

export function u16(value: number): Uint8Array {
  return Uint8Array.of(value & 255, value >> 8);
}

export function u32(value: number): Uint8Array {
  return Uint8Array.of(value & 255, (value >>> 8) & 255, (value >>> 16) & 255, value >>> 24);
}

export function join(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  parts.reduce((at, part) => (all.set(part, at), at + part.length), 0);
  return all;
}
