const e6 = [10, 15, 22, 33, 47, 68];
const e12 = [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82];
const columns =
  'stock,kind,build,type,value,tolerance,rated,esr,leakage,loss,pitch,diameter,height,case_leads,quantity,price,note';

/** An invented drawer, the same each time: nearly half electrolytics, the rest film, polystyrene, resistors and a few transistors. */
export function largeDrawer(rows: number): string {
  const share = randomShares(20261125);
  const of = <T>(items: readonly T[]): T => items[Math.floor(share() * items.length)]!;
  const between = (low: number, high: number): string => (low + (high - low) * share()).toPrecision(4);
  const row = (n: number): string => {
    const held = `${Math.floor(40 * share())},${(0.02 + 1.2 * share()).toFixed(2)},`;
    const kind = share();
    if (kind < 0.45) {
      const value = of(e6) * 10 ** of([-1, 0, 1]);
      const build = of(['aluminium', 'aluminium', 'aluminium', 'aluminium_bipolar']);
      return `A${n},capacitor,${build},,${value.toPrecision(3)} µF,20 %,${of([6.3, 10, 16, 25, 35, 50, 63])} V,${between(0.1, 6)} Ω,${between(1, 500)} MΩ,${between(0.03, 0.15)},${of([2.5, 5])} mm,${of([5, 6.3, 8, 10])} mm,${of([7, 11, 12, 15, 20, 25])} mm,,${held}`;
    }
    if (kind < 0.65) {
      const value = of(e12) * 10 ** of([-3, -2, -1]);
      return `F${n},capacitor,film,,${value.toPrecision(3)} µF,5 %,${of([50, 63, 100, 250])} V,,${between(1, 50)} GΩ,${between(0.002, 0.01)},${of([5, 7.5, 10])} mm,${of([3, 5, 7.2, 9])} mm,${of([7, 9, 11.5, 14])} mm,,${held}`;
    }
    if (kind < 0.72) return `P${n},capacitor,polystyrene,,${of(e12)} nF,1 %,63 V,,,0.0005,10 mm,6 mm,7 mm,,${held}`;
    if (kind < 0.97) {
      const ohms = of(e12) * 10 ** of([0, 1, 2, 3, 4, 5]);
      return `R${n},resistor,metal_film,,${ohms} Ω,1 %,0.6 W,,,,10 mm,2.5 mm,2.5 mm,,${held}`;
    }
    return `T${n},npn,,${of(['HN-D', 'HN-A'])},,,,,,,,,,${of(['ECB', 'BCE', 'CBE'])},${held}`;
  };
  return `${columns}\n${Array.from({ length: rows }, (_, n) => `${row(n)}\n`).join('')}`;
}

/** Numbers from 0 to 1 (the generator of Park & Miller, Commun. ACM 31, 1988). */
function randomShares(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}
