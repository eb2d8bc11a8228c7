import type { Circuit, Part } from './circuit.ts';
import type { Diagnostic } from './diagnostics.ts';
import type { JobPosition, MeterReading, Readings } from './job.ts';
import { suggestion } from './nearest.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import { shown } from './schema/fields.ts';
import type { JobEntry } from './schema/job-schema.ts';
import type { ReadingsEntry } from './schema/readings-schema.ts';
import { spotPair, spotsOf, type Spots } from './spots.ts';

/** A job's meter readings with the nodes their names mean, and every name that means none. */
export function joinReadings(
  job: JobEntry,
  circuit: Circuit,
  positions: readonly JobPosition[],
  added: readonly Part[],
  placeOf: PlaceOf,
): { readonly readings: readonly Readings[]; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const channels = circuit.channels.map((channel) => channel.name);
  const channelFault = (channel: string, path: Path, of: 'key' | 'value'): void => {
    if (channels.includes(channel)) return;
    const message = `there is no channel ${shown(channel)}; ${suggestion(channel, channels)}`;
    diagnostics.push({ code: 'unknown-node', place: placeOf(path, of), message });
  };

  const readings = (job.readings ?? []).map((entry, index): Readings => {
    const path = ['readings', index];
    const spots = spotsIn(entry.state, circuit, positions, added);
    entry.heard?.forEach(({ channel }, item) => {
      if (channel !== undefined) channelFault(channel, [...path, 'heard', item, 'channel'], 'value');
    });
    for (const figure of ['hiss', 'hum', 'pops'] as const) {
      for (const channel of Object.keys(entry[figure] ?? {})) channelFault(channel, [...path, figure, channel], 'key');
    }
    const meterReadings = (kind: 'volts' | 'ohms'): readonly MeterReading[] =>
      Object.entries(entry[kind] ?? {}).flatMap(([name, value]): MeterReading[] => {
        const place = placeOf([...path, kind, name], 'key');
        const pair = spotPair(name, spots);
        if (pair.ok) return [{ name, nodes: pair.nodes, value, place }];
        diagnostics.push({ code: pair.code, place, message: pair.message });
        return [];
      });
    return {
      state: entry.state,
      ...(entry.on_for !== undefined && { onFor: entry.on_for }),
      ...(entry.meter && { meter: entry.meter }),
      volts: meterReadings('volts'),
      ohms: meterReadings('ohms'),
      ...(entry.hiss && { hiss: entry.hiss }),
      ...(entry.hum && { hum: entry.hum }),
      ...(entry.pops && { pops: entry.pops }),
      heard: entry.heard ?? [],
    };
  });
  for (const channel of Object.keys(job.measured?.response ?? {})) {
    channelFault(channel, ['measured', 'response', channel], 'key');
  }
  return { readings, diagnostics };
}

/** Where a probe may stand in one state. A place whose part is gone keeps the names of its drawn leads. */
function spotsIn(
  state: ReadingsEntry['state'],
  circuit: Circuit,
  positions: readonly JobPosition[],
  added: readonly Part[],
): Spots {
  const standing = positions.flatMap(({ pulled, fitted }) => {
    const now = state === 'rebuilt' ? (fitted ?? pulled) : pulled;
    return now?.parts ?? [];
  });
  const parts = [...standing, ...(state === 'rebuilt' ? added : []), ...circuit.parts];
  return spotsOf(parts, [...circuit.common, ...circuit.rails.map((rail) => rail.node)], circuit.channels);
}
