import { type Axis, along, tickText } from "../state/axis";

const LEFT = 54;
const TOP = 16;
const BOTTOM = 40;

/** Where the axes of a picture stand in its drawing, and where between them a value does. */
export interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly y: Axis;
  px(value: number): number;
  py(value: number): number;
}

/** A plot in a drawing of this size, with some room at the right of it for words. */
export function plotIn(width: number, height: number, room: number, x: Axis, y: Axis): Plot {
  const right = width - room;
  const bottom = height - BOTTOM;
  return {
    left: LEFT,
    right,
    top: TOP,
    bottom,
    y,
    px: (value) => along(x, value, LEFT, right),
    py: (value) => along(y, value, bottom, TOP),
  };
}

export interface Tick {
  readonly at: number;
  readonly text: string;
}

/** Ticks that stand under each other's feet lose their words, all but every second, third, or as many as it takes. */
export function thinned(ticks: readonly Tick[], plot: Plot): readonly Tick[] {
  const every = Math.max(1, Math.ceil((ticks.length * 72) / Math.max(1, plot.right - plot.left)));
  return ticks.map((tick, i) => (i % every === 0 ? tick : { ...tick, text: "" }));
}

interface AxesProps {
  readonly plot: Plot;
  readonly ticks: readonly Tick[];
  /** Stand behind the last number of their axis. */
  readonly xUnit?: string;
  readonly yUnit: string;
  /** What is told along the bottom. */
  readonly across?: string;
}

/** The rules, axes and numbers of a plot. */
export function Axes({ plot, ticks, xUnit = "", yUnit, across = "" }: AxesProps) {
  const { left, right, bottom, y, px, py } = plot;
  const withUnit = (text: string, unit: string, last: boolean) =>
    last && unit !== "" ? `${text} ${unit}` : text;
  return (
    <>
      <g className="grid-rule">
        {y.ticks.map((t) => (
          <path key={t} d={`M${left} ${py(t)}H${right}`} />
        ))}
      </g>
      <path className="axis" d={`M${left} ${bottom}H${right}`} />
      <g textAnchor="end">
        {y.ticks.map((t, i) => (
          <text key={t} x={left - 8} y={py(t) + 4}>
            {withUnit(tickText(y, t), yUnit, i === y.ticks.length - 1)}
          </text>
        ))}
      </g>
      <path className="axis" d={ticks.map((t) => `M${px(t.at)} ${bottom}v5`).join("")} />
      <g textAnchor="middle">
        {ticks.map((t, i) => (
          <text key={t.at} x={px(t.at)} y={bottom + 20}>
            {withUnit(t.text, xUnit, i === ticks.length - 1)}
          </text>
        ))}
      </g>
      {across === "" ? null : (
        <text x={(left + right) / 2} y={bottom + 36} textAnchor="middle">
          {across}
        </text>
      )}
    </>
  );
}

/** How far a value may be off, as a bar with ends. */
export function Whisker({
  plot,
  x,
  y,
  spread,
}: {
  plot: Plot;
  x: number;
  y: number;
  spread: number | undefined;
}) {
  if (spread === undefined) return null;
  const [high, low] = [plot.py(y + spread), plot.py(y - spread)];
  return <path className="whisker" d={`M${x - 4} ${high}h8M${x} ${high}V${low}M${x - 4} ${low}h8`} />;
}
