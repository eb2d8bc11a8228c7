import type { PartType } from '../part-type.ts';
import { currentGain, transitFrequency, voltsAt } from './figure-points.ts';
import { addFault, strict, type Field } from './fields.ts';
import { casedAs, caseAndPower, corner, farads, kind, ohms, rating } from './type-figures.ts';

const bipolarFigures = {
  hFE: currentGain,
  VBE: voltsAt({
    description: 'Base-emitter voltage at a collector current',
    examples: ['600 mV'],
    at: { description: 'Collector current', examples: ['1 mA'] },
  }),
  early_voltage: rating('V', 'Early voltage; silent: infinite', '90 V'),
  fT: transitFrequency.exactOptional(),
  Cob: farads('Collector-base capacitance', '3 pF'),
  Cib: farads('Base-emitter capacitance without current; silent: as Cob', '6 pF'),
  rbb: ohms('Base spreading resistance', '120 Ω'),
  noise_corner: corner('Where 1/f noise of the base current equals its shot noise'),
  VCEO: rating('V', 'Rated collector-emitter voltage', '50 V'),
  VEBO: rating('V', 'Rated emitter-base voltage', '5 V'),
  IC: rating('A', 'Rated collector current', '100 mA'),
  ...caseAndPower,
};

/** kT/q at 25 °C, where datasheet figures hold; k and q are exact (SI, 2019). */
const thermalVolts = (1.380649e-23 * 298.15) / 1.602176634e-19;

/** A bipolar transistor's figures; those of a pnp are magnitudes. */
export const bipolar = (name: 'npn' | 'pnp'): Field<PartType> =>
  strict({ kind: kind(name), ...bipolarFigures })
    .superRefine(({ fT, Cob = 0, Cib = Cob }, context) => {
      if (fT?.at === undefined) return;
      const whole = 1 / (2 * Math.PI * fT.value);
      const capacitances = ((Cib + Cob) * thermalVolts) / fT.at;
      if (whole >= capacitances) return;
      const most = (1 / (2 * Math.PI * capacitances) / 1e6).toPrecision(3);
      const message = `leaves no time for the transit, as Cib and Cob alone bring it to ${most} MHz; write fT at the current it was measured at, or smaller capacitances`;
      addFault(context, { code: 'transit-time', message }, ['fT']);
    })
    .transform(({ hFE, early_voltage, noise_corner, case_leads, case: form, ...rest }): PartType => ({
      ...rest,
      hFE: hFE.points,
      ...(hFE.low === undefined ? {} : { hFELow: hFE.low }),
      ...(hFE.high === undefined ? {} : { hFEHigh: hFE.high }),
      ...(early_voltage === undefined ? {} : { earlyVoltage: early_voltage }),
      ...(noise_corner === undefined ? {} : { noiseCorner: noise_corner }),
      ...casedAs(case_leads, form),
    }));
