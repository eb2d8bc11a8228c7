import { describe, expect, it } from 'vitest';
import { readShop } from '../src/index.ts';

describe('a shop file', () => {
  it('says whose sheets they are', () => {
    const text = 'shop: 1\nname: Bench\naddress: [1 Mill Lane, "Larkfield, North"]\nphone: 0555\npaper: Letter\n';
    expect(readShop(text, 'shop.yaml')).toEqual({
      ok: true,
      value: {
        ...{ shop: 1, name: 'Bench', address: ['1 Mill Lane', 'Larkfield, North'], phone: '0555', paper: 'Letter' },
      },
    });
  });

  it.each([
    ['name: Bench', 'missing-key', 1, /shop is missing; write shop: 1/],
    ['shop: 2\nname: Bench', 'wrong-version', 1, /version 2 is not known/],
    ['shop: 1\nnmae: Bench', 'unknown-key', 2, /name/],
    ['shop: 1\nname: Bench\npaper: A3', 'wrong-form', 3, /A4/],
  ])('is refused with its place: %j', (text, code, line, message) => {
    const read = readShop(text, 'shop.yaml');
    if (read.ok) throw new Error('read');
    const fault = read.diagnostics.find((each) => each.code === code);
    expect(fault?.place).toMatchObject({ file: 'shop.yaml', line });
    expect(fault?.message).toMatch(message);
  });
});
