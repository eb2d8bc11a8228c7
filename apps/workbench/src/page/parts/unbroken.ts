const valueAndUnit = /(\d) (?=(?:[fpnµmkMG]?(?:F|Ω|V|A|H|Hz|W|S|s|m)|dB|°C|%)(?!\p{L}))/gu;

/** Text whose values keep their units on one line: `22 µF` is not broken. */
export function unbroken(text: string): string {
  return text.replace(valueAndUnit, '$1\u00a0');
}
