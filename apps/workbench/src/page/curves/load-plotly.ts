import type { react, purge } from 'plotly.js-dist-min';

/** What of Plotly is used here. */
export interface Plotly {
  readonly react: typeof react;
  readonly purge: typeof purge;
}

let loading: Promise<Plotly> | null = null;

/** Plotly, fetched when it is first wanted: it weighs many times what the rest of the page does. */
export function loadPlotly(): Promise<Plotly> {
  loading ??= fetchPlotly();
  return loading;
}

/**
 * Elements that Plotly would write its style rules into. It leaves alone what it finds there, and the page allows no styles but its own files':
 * the rules that are needed stand in plot.css. The second is that of the maps, which are not used here.
 */
const styleIds = ['plotly.js-style-global', 'ce8d464691048653ffe3a57c6c18ab566e8366f186677868cf724621a857b4fe'];

async function fetchPlotly(): Promise<Plotly> {
  for (const id of styleIds) {
    const mark = document.createElement('meta');
    mark.id = id;
    mark.className = 'no-inline-styles';
    document.head.append(mark);
  }
  const module = await import('plotly.js-dist-min');
  return module.default;
}
