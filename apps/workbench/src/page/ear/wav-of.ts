/**
 * A buffer as a WAV file of 32-bit floating point, so that nothing clips (Microsoft and IBM, Multimedia Programming Interface and Data
 * Specifications 1.0, 1991, with format tag 3).
 */
export function wavOf(buffer: AudioBuffer): Blob {
  const { numberOfChannels, length, sampleRate } = buffer;
  const channels = Array.from({ length: numberOfChannels }, (_, n) => buffer.getChannelData(n));
  const frame = 4 * numberOfChannels;
  const bytes = new DataView(new ArrayBuffer(headBytes + length * frame));
  const letters = (at: number, text: string): void => {
    [...text].forEach((letter, n) => {
      bytes.setUint8(at + n, letter.charCodeAt(0));
    });
  };
  letters(0, 'RIFF');
  bytes.setUint32(4, headBytes - 8 + length * frame, true);
  letters(8, 'WAVEfmt ');
  bytes.setUint32(16, 16, true);
  bytes.setUint16(20, floating, true);
  bytes.setUint16(22, numberOfChannels, true);
  bytes.setUint32(24, sampleRate, true);
  bytes.setUint32(28, sampleRate * frame, true);
  bytes.setUint16(32, frame, true);
  bytes.setUint16(34, 32, true);
  letters(36, 'data');
  bytes.setUint32(40, length * frame, true);
  for (let n = 0; n < length; n++) {
    channels.forEach((samples, c) => {
      bytes.setFloat32(headBytes + n * frame + 4 * c, samples[n] ?? 0, true);
    });
  }
  return new Blob([bytes.buffer], { type: 'audio/wav' });
}

const headBytes = 44;
const floating = 3;
