/** Text that Plotly would otherwise read for tags and for values to put in. */
export function plainText(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('%{', '%\u200B{');
}
