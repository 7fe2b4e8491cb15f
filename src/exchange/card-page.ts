import { nameBefore } from "../engine/items";
import type { CardAmount, CardDocument, CardReading, CardStep } from "./card";
import { escapeMarkup } from "./markup";

/**
 * The bench card as one HTML file that needs nothing else: no script, no font, no picture from elsewhere.
 * Always light, black on white, set for one sheet of A4; a long card runs on to a second sheet and never
 * breaks inside a step.
 */
export function cardHtml(card: CardDocument): string {
  const title = card.title === "" ? "Bench card" : card.title;
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
    `<title>${escapeMarkup(title)}</title>`,
    `<style>${STYLE}</style>`,
    "</head>",
    `<body${density(card)}>`,
    cardBody(card),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

/** The card without the page around it, for a view that brings its own style. */
export function cardBody(card: CardDocument): string {
  const parts: string[] = [`<main class="card">`];
  parts.push(`<h1>${escapeMarkup(card.title === "" ? "Bench card" : card.title)}</h1>`);
  for (const paragraph of card.about) parts.push(`<p class="about">${escapeMarkup(paragraph)}</p>`);
  parts.push(
    `<p class="blanks">${card.blanks.map((b) => `<span class="blank">${escapeMarkup(b)} <i></i></span>`).join(" ")}</p>`,
  );
  if (card.warnings.length > 0) {
    parts.push('<div class="warn"><h2>Before you begin</h2>');
    for (const warning of card.warnings) parts.push(`<p>${escapeMarkup(warning)}</p>`);
    parts.push("</div>");
  }
  for (const line of card.open) parts.push(`<p class="open">${escapeMarkup(line)}</p>`);
  for (const section of card.sections) {
    if (section.title !== "") parts.push(`<h2>${escapeMarkup(section.title)}</h2>`);
    parts.push(`<ol start="${section.steps[0]!.number}">`);
    for (const step of section.steps) parts.push(stepItem(step));
    parts.push("</ol>");
  }
  if (card.sections.length === 0) parts.push('<p class="open">This book has no steps.</p>');
  parts.push('<div class="mind"><h2>Mind</h2><ul>');
  card.cautions.forEach((caution, i) => {
    const about = card.concerns[i] ? ` <small>(${escapeMarkup(card.concerns[i])})</small>` : "";
    parts.push(`<li>${escapeMarkup(caution)}${about}</li>`);
  });
  parts.push("</ul></div>", "</main>");
  return parts.join("\n");
}

function stepItem(step: CardStep): string {
  const sentence = step.pieces.map((p) => (typeof p === "string" ? escapeMarkup(p) : amount(p))).join("");
  const wait = step.wait === undefined ? "" : `<p class="wait">Wait ${amount(step.wait)}.</p>`;
  const readings =
    step.readings.length === 0 ? "" : `<p class="readings">${step.readings.map(reading).join(" ")}</p>`;
  return `<li value="${step.number}"><span class="ring" role="img" aria-label="to tick"></span><div><span class="number">${step.number}.</span> ${sentence}${wait}${readings}</div></li>`;
}

function amount(a: CardAmount): string {
  if (a.state !== "ok") {
    const why = a.message === undefined ? "" : ` <small>(${escapeMarkup(a.message)})</small>`;
    return `<span class="blank"><i></i></span>${why}`;
  }
  if (a.entries !== undefined) {
    const each = a.entries.map((e) => {
      const name = escapeMarkup(nameBefore(e.name));
      return `${name}<b>${escapeMarkup(e.text)}</b>`;
    });
    return each.join(", ");
  }
  const unit = a.unit === "" ? "" : ` <span class="unit">${escapeMarkup(a.unit)}</span>`;
  return `<b>${escapeMarkup(a.number)}${unit}</b>`;
}

function reading(r: CardReading): string {
  const unit = r.unit === "" ? "" : ` <span class="unit">${escapeMarkup(r.unit)}</span>`;
  const plan = r.expect === undefined ? "" : ` <small>planned ${escapeMarkup(r.expect)}</small>`;
  return `<span class="blank">${escapeMarkup(r.label)} <i></i>${unit}${plan}</span>`;
}

/**
 * A guess at how much room the card needs, in lines of about 84 characters, so that one that nearly fits is
 * set closer instead of spilling two lines on a second sheet. 46 lines fill a sheet at the open setting.
 */
function density(card: CardDocument): string {
  let lines = 6 + card.cautions.length * 1.2 + card.warnings.length + card.open.length + card.about.length;
  for (const section of card.sections) {
    lines += section.title === "" ? 0 : 2;
    for (const step of section.steps) {
      const characters = step.pieces.reduce((n, p) => n + (typeof p === "string" ? p : p.text).length, 0);
      lines +=
        0.6 + Math.ceil(characters / 84) + (step.wait ? 1 : 0) + Math.ceil(step.readings.length / 3) * 1.5;
    }
  }
  return lines > 46 ? ' class="close"' : "";
}

const STYLE = `
:root { color-scheme: only light; }
@page { size: A4; margin: 15mm 16mm; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #000; font: 11.5pt/1.4 "Gill Sans", "Cabin", "DejaVu Sans", "Noto Sans", sans-serif; font-variant-numeric: tabular-nums lining-nums; }
body.close { font-size: 10pt; line-height: 1.3; }
.card { max-width: 178mm; margin: 0 auto; padding: 8mm 4mm; }
h1 { font: 600 1.6em/1.2 "Charter", "Bitstream Charter", "Liberation Serif", "DejaVu Serif", serif; margin: 0 0 0.3em; }
h2 { font: 600 1.15em/1.25 "Charter", "Bitstream Charter", "Liberation Serif", "DejaVu Serif", serif; margin: 1em 0 0.4em; break-after: avoid; }
p { margin: 0 0 0.4em; }
.about { font-style: italic; }
.blanks, .readings { display: flex; flex-wrap: wrap; gap: 0.5em 1.8em; margin: 0.7em 0; }
.readings { margin: 0.45em 0 0.1em; }
.blank { white-space: nowrap; }
.blank i { display: inline-block; width: 5.5em; border-bottom: 0.75pt solid #000; height: 1.15em; vertical-align: baseline; }
b { white-space: nowrap; }
small { font-size: 0.82em; }
.unit { font-size: 0.85em; font-weight: 400; }
.warn { border: 1.5pt solid #000; padding: 0.4em 0.8em; margin: 0.7em 0; break-inside: avoid; }
.warn h2, .mind h2 { margin: 0 0 0.25em; }
.open { font-style: italic; }
ol { list-style: none; margin: 0; padding: 0; }
ol li { display: flex; gap: 0.8em; padding: 0.35em 0; break-inside: avoid; border-bottom: 0.25pt solid #999; }
ol li .ring { flex: none; width: 1.35em; height: 1.35em; border: 1pt solid #000; border-radius: 50%; margin-top: 0.05em; }
.number { font-weight: 600; }
.wait { margin: 0.25em 0 0; }
.mind { border: 0.75pt solid #000; padding: 0.5em 0.9em; margin: 1em 0 0; break-inside: avoid; }
.mind ul { margin: 0; padding-left: 1.1em; }
.mind li { margin: 0 0 0.15em; }
@media print { .card { padding: 0; max-width: none; } }
`;
