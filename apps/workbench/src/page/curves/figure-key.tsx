import type { JSX } from 'preact';
import { bandShare, inkVariable, inks, lookStyles, secondLine } from '@curvewright/report';
import type { CurveFigure, InkName } from '@curvewright/report';

type LineStyle = (typeof lookStyles)[keyof typeof lookStyles];

/** What tells channels apart is the same in every state. */
const anyState: LineStyle = { ink: 'text', width: 1.75, dash: [], mark: null };

/** What the lines stand for: the states, the channels where there are several, the bands. The static plate brings its own. */
export function FigureKey({ figure: { series, bands } }: { figure: CurveFigure }): JSX.Element {
  const labels = new Map(series.map(({ label, look }) => [label, look]));
  const channels = new Map(
    series.flatMap(({ channel, double }) => (channel === null ? [] : [[channel, double] as const])),
  );
  return (
    <ul class="figure-key" aria-hidden="true">
      {[...labels].map(([label, look]) => (
        <Entry key={label} text={label}>
          <LineSample style={lookStyles[look]} double={false} />
        </Entry>
      ))}
      {[...channels].map(([channel, double]) => (
        <Entry key={channel} text={channel}>
          <LineSample style={anyState} double={double} />
        </Entry>
      ))}
      {bands.map(({ name, look }) => (
        <Entry key={name} text={name}>
          <rect x="0" y="2" width="28" height="10" fill={colour(lookStyles[look].ink)} fill-opacity={bandShare} />
        </Entry>
      ))}
    </ul>
  );
}

function Entry({ text, children }: { text: string; children: JSX.Element }): JSX.Element {
  return (
    <li>
      <svg width="28" height="14" fill="none" focusable="false">
        {children}
      </svg>
      {text}
    </li>
  );
}

function LineSample({ style, double }: { style: LineStyle; double: boolean }): JSX.Element {
  const { ink, width, dash, mark } = style;
  const [stroke, paper] = [colour(ink), colour('paper')];
  const dashes = dash.length === 0 ? {} : { 'stroke-dasharray': dash.join(' ') };
  const above = 7 - width / 2 - secondLine.gap - secondLine.width / 2;
  return (
    <>
      {width > 0 && <path d="M0 7H28" stroke={stroke} stroke-width={width} {...dashes} />}
      {double && <path d={`M0 ${above}H28`} stroke={stroke} stroke-width={secondLine.width} {...dashes} />}
      {mark === 'open square' && (
        <rect x="11" y="4" width="6" height="6" fill={paper} stroke={stroke} stroke-width="1.25" />
      )}
      {mark === 'dot' && <circle cx="14" cy="7" r="3" fill={stroke} />}
    </>
  );
}

function colour(name: InkName): string {
  return `var(${inkVariable(name)},${inks[name].light})`;
}
