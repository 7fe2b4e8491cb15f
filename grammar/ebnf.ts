import { grammarRules, type Rule, type Shape, tokenClasses } from "./grammar-shape";

/** The grammar in EBNF: `[ ]` may be left out, `{ }` stands any number of times, `|` is a choice. */

const WIDTH = 110;

export function grammarEbnf(): string {
  const head = [
    "(* The grammar of a .vacuo book, generated from the parser: npm run generate.",
    "   [ ] may be left out, { } stands any number of times, | is a choice. Words in capitals are classes of",
    "   tokens. A statement goes on over the next line while a bracket is open, or when a line ends with, or the",
    "   next begins with, an operator or a word behind which something must come. *)",
  ];
  const classes = tokenClasses.map(
    ({ name, says }) => `${wrapped(`(* ${name.padEnd(8)} ${says}`, 12).join("\n")} *)`,
  );
  return `${[...head, "", ...grammarRules().map(ruleLine), "", ...classes].join("\n")}\n`;
}

const LONGEST_NAME = 13;

export function ruleLine({ name, shape }: Rule): string {
  const text = alternatives(shape);
  const indent = " ".repeat(LONGEST_NAME + 2);
  const lines = shape.type === "choice" ? text : wrapped(text[0]!, 0, WIDTH - indent.length);
  const joined = lines
    .map((line, i) => (i === 0 ? line : `${indent}${shape.type === "choice" ? "| " : "  "}${line}`))
    .join("\n");
  return `${name.padEnd(LONGEST_NAME)} = ${joined} .`;
}

function alternatives(shape: Shape): readonly string[] {
  return shape.type === "choice" ? shape.of.map((one) => ebnf(one, false)) : [ebnf(shape, true)];
}

/** A shape on one line. `tight` puts a choice in brackets. */
export function ebnf(shape: Shape, tight: boolean): string {
  switch (shape.type) {
    case "sequence":
      return shape.of.map((one) => ebnf(one, true)).join(" ");
    case "choice": {
      const text = shape.of.map((one) => ebnf(one, false)).join(" | ");
      return tight ? `( ${text} )` : text;
    }
    case "option":
      if (shape.of.type === "repeat" && shape.of.separator === undefined)
        return `{ ${ebnf(shape.of.of, false)} }`;
      return `[ ${ebnf(shape.of, false)} ]`;
    case "repeat": {
      const once = ebnf(shape.of, true);
      if (shape.separator === undefined) return `${once} { ${ebnf(shape.of, false)} }`;
      return `${once} { ${ebnf(shape.separator, true)} ${once} }`;
    }
    case "literal":
      return shape.text === '"' ? `'"'` : `"${shape.text}"`;
    default:
      return shape.name;
  }
}

function wrapped(text: string, indent: number, width = WIDTH): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = " ".repeat(indent) + word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines;
}
