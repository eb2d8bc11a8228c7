import { useEffect, useState } from 'preact/hooks';
import { loadPlotly, type Plotly } from './load-plotly.ts';

/** Null until it has come; the page is drawn first. */
export function usePlotly(): Plotly | null {
  const [plotly, setPlotly] = useState<Plotly | null>(null);
  useEffect(() => {
    let isWanted = true;
    // Where it cannot be fetched the static plate stays, which says all that it would.
    void loadPlotly().then(
      (module) => {
        if (isWanted) setPlotly(() => module);
      },
      () => undefined,
    );
    return () => {
      isWanted = false;
    };
  }, []);
  return plotly;
}
