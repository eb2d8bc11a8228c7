/** What a part is drawn as. */
export type SymbolKind =
  | 'resistor'
  | 'capacitor'
  | 'polarised capacitor'
  | 'inductor'
  | 'variable resistor'
  | 'trimmer'
  | 'diode'
  | 'zener'
  | 'npn'
  | 'pnp'
  | 'jfet-n'
  | 'jfet-p'
  | 'triode'
  | 'opamp'
  | 'switch';
