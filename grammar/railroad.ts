import { ruleLine } from "./ebnf";
import { grammarRules, type Rule, type Shape, tokenClasses } from "./grammar-shape";

/**
 * The grammar as a page of railroad drawings: follow the line from left to right, and whatever you pass is a
 * well-formed text. The page is one file, without scripts and without anything from elsewhere; under each drawing the
 * same rule stands in EBNF for those who cannot see it.
 */

/** A drawing with its line at height 0: how far it reaches above and below, and its strokes from a given place. */
interface Drawing {
  readonly width: number;
  readonly above: number;
  readonly below: number;
  draw(x: number, y: number): string;
}

const LETTER = 7.8;
const BOX = 13;
const GAP = 10;
const CURVE = 8;
const ROW_GAP = 10;
const EDGE = 20;

const line = (x: number, y: number, to: number): string =>
  to > x ? `<path d="M${n(x)} ${n(y)}H${n(to)}"/>` : "";
const path = (d: string): string => `<path d="${d}"/>`;

/** A number without needless decimals, so that the page is the same on every machine. */
function n(value: number): string {
  return String(Math.round(value * 10) / 10);
}

function asHtml(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

function drawingOf(shape: Shape): Drawing {
  switch (shape.type) {
    case "literal":
      return box(shape.text, "literal");
    case "token":
      return box(shape.name, "token");
    case "rule":
      return box(shape.name, "rule");
    case "sequence":
      return inSequence(shape.of.map(drawingOf));
    case "choice":
      return branches(shape.of.map(drawingOf));
    case "option":
      return branches([nothing, drawingOf(shape.of)]);
    case "repeat":
      return loop(drawingOf(shape.of), shape.separator === undefined ? nothing : drawingOf(shape.separator));
  }
}

const nothing: Drawing = { width: 0, above: 0, below: 0, draw: () => "" };

function box(text: string, kind: "literal" | "token" | "rule"): Drawing {
  const width = [...text].length * LETTER + 18;
  const draw = (x: number, y: number): string => {
    const rect = `<rect class="${kind}" x="${n(x)}" y="${n(y - BOX)}" width="${n(width)}" height="${2 * BOX}" rx="${kind === "literal" ? BOX : 3}"/>`;
    const label = `<text x="${n(x + width / 2)}" y="${n(y + 4.5)}">${asHtml(text)}</text>`;
    return kind === "rule" ? `<a href="#${text}">${rect}${label}</a>` : rect + label;
  };
  return { width, above: BOX, below: BOX, draw };
}

function inSequence(parts: readonly Drawing[]): Drawing {
  const width = parts.reduce((sum, part) => sum + part.width, 0) + GAP * (parts.length - 1);
  const draw = (x: number, y: number): string => {
    let at = x;
    return parts
      .map((part, i) => {
        const joint = i === 0 ? "" : line(at - GAP, y, at);
        const drawn = joint + part.draw(at, y);
        at += part.width + GAP;
        return drawn;
      })
      .join("");
  };
  return { width, above: highest(parts), below: lowest(parts), draw };
}

/** Ways beside each other; the first is straight on. */
function branches(ways: readonly Drawing[]): Drawing {
  const widest = Math.max(...ways.map((way) => way.width));
  const width = widest + 4 * CURVE;
  const steps: number[] = [0];
  for (let i = 1; i < ways.length; i++)
    steps.push(steps[i - 1]! + Math.max(ways[i - 1]!.below + ROW_GAP + ways[i]!.above, 2 * CURVE));
  const draw = (x: number, y: number): string => {
    const left = x + 2 * CURVE;
    const right = left + widest;
    return ways
      .map((way, i) => {
        const height = y + steps[i]!;
        const start = left + (widest - way.width) / 2;
        const drawn =
          way.draw(start, height) + line(left, height, start) + line(start + way.width, height, right);
        if (i === 0) return line(x, y, left) + drawn + line(right, y, x + width);
        const down = `M${n(x)} ${n(y)}q${CURVE} 0 ${CURVE} ${CURVE}V${n(height - CURVE)}q0 ${CURVE} ${CURVE} ${CURVE}`;
        const up = `M${n(right)} ${n(height)}q${CURVE} 0 ${CURVE} ${-CURVE}V${n(y + CURVE)}q0 ${-CURVE} ${CURVE} ${-CURVE}`;
        return path(down) + drawn + path(up);
      })
      .join("");
  };
  return { width, above: ways[0]!.above, below: steps.at(-1)! + ways.at(-1)!.below, draw };
}

/** A way that may be gone again; the way back goes below, past the separator. */
function loop(way: Drawing, back: Drawing): Drawing {
  const widest = Math.max(way.width, back.width);
  const width = widest + 4 * CURVE;
  const step = Math.max(way.below + ROW_GAP + back.above, 2 * CURVE);
  const draw = (x: number, y: number): string => {
    const left = x + 2 * CURVE;
    const right = left + widest;
    const start = left + (widest - way.width) / 2;
    const backStart = left + (widest - back.width) / 2;
    const height = y + step;
    const forth = line(x, y, start) + way.draw(start, y) + line(start + way.width, y, x + width);
    const returning =
      back.draw(backStart, height) +
      line(left, height, backStart) +
      line(backStart + back.width, height, right);
    const down = `M${n(right)} ${n(y)}q${CURVE} 0 ${CURVE} ${CURVE}V${n(height - CURVE)}q0 ${CURVE} ${-CURVE} ${CURVE}`;
    const up = `M${n(left)} ${n(height)}q${-CURVE} 0 ${-CURVE} ${-CURVE}V${n(y + CURVE)}q0 ${-CURVE} ${CURVE} ${-CURVE}`;
    return forth + returning + path(down) + path(up);
  };
  return { width, above: way.above, below: step + back.below, draw };
}

function highest(parts: readonly Drawing[]): number {
  return Math.max(...parts.map((part) => part.above));
}
function lowest(parts: readonly Drawing[]): number {
  return Math.max(...parts.map((part) => part.below));
}

function picture(rule: Rule): string {
  const drawing = drawingOf(rule.shape);
  const width = drawing.width + 2 * EDGE;
  const y = drawing.above + 4;
  const height = y + drawing.below + 4;
  const ends = [EDGE - 12, EDGE + drawing.width + 12]
    .map((x) => path(`M${n(x)} ${n(y - 6)}V${n(y + 6)}`))
    .join("");
  const rails = line(EDGE - 12, y, EDGE) + line(EDGE + drawing.width, y, EDGE + drawing.width + 12);
  return `<svg viewBox="0 0 ${n(width)} ${n(height)}" width="${n(width)}" height="${n(height)}" role="img" aria-label="How ${rule.name} is written">${ends}${rails}${drawing.draw(EDGE, y)}</svg>`;
}

const STYLE = `
:root { color-scheme: light dark; --ground: #fcfbf7; --ink: #2b2a26; --rail: #6b675c; --box: #f1eee3; --word: #e4ece4; }
@media (prefers-color-scheme: dark) { :root { --ground: #1d1e1c; --ink: #e7e4da; --rail: #a09c8f; --box: #2b2c29; --word: #263329; } }
body { background: var(--ground); color: var(--ink); font: 1rem/1.5 Georgia, serif; margin: 2rem auto; max-width: 62rem; padding: 0 1rem; }
h2 { font-size: 1.1rem; margin: 2rem 0 .4rem; }
.drawing { overflow-x: auto; }
svg path { fill: none; stroke: var(--rail); stroke-width: 1.5; }
svg rect { stroke: var(--rail); stroke-width: 1.2; fill: var(--box); }
svg rect.literal { fill: var(--word); }
svg rect.token { stroke-dasharray: 4 2; }
svg text { font: 13px ui-monospace, monospace; text-anchor: middle; fill: var(--ink); }
pre { font: .85rem/1.45 ui-monospace, monospace; white-space: pre-wrap; color: var(--rail); margin: .3rem 0; }
dt { font-family: ui-monospace, monospace; } dd { margin: 0 0 .5rem 1.5rem; }
`;

export function railroadPage(): string {
  const rules = grammarRules().map(
    (rule) =>
      `<section id="${rule.name}"><h2>${rule.name}</h2><div class="drawing" tabindex="0" role="group" aria-label="Drawing of ${rule.name}">${picture(rule)}</div><pre>${asHtml(ruleLine(rule))}</pre></section>`,
  );
  const classes = tokenClasses.map(({ name, says }) => `<dt>${name}</dt><dd>${asHtml(says)}</dd>`);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>The grammar of a book</title>
<style>${STYLE}</style>
</head>
<body>
<h1>The grammar of a book</h1>
<p>Follow a line from left to right: what you pass is how it is written. Round boxes stand in the text as they are, square ones are rules of their own, dashed ones are classes of tokens, described at the end. Generated from the parser.</p>
${rules.join("\n")}
<h2>Classes of tokens</h2>
<dl>
${classes.join("\n")}
</dl>
</body>
</html>
`;
}
