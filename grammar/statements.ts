import { readStatement } from "./formulas";
import { LONGEST_STATEMENT, statementTooLong } from "./limits";
import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import { nearName } from "./names";
import { fixedName } from "./rows";
import { unseenFault } from "./texts";
import type { Formula, StatementNode, SyntaxMessage } from "./tree";
import { BLANKS, endOfWord, FIXED_NAMES, findUnseen, normal, STATEMENTS } from "./words";

/** One statement read by itself, whatever stands around it. */

export interface ReadStatement {
  readonly node: StatementNode;
  readonly messages: readonly SyntaxMessage[];
}

type Defines = NonNullable<Extract<StatementNode, { type: "unread" }>["defines"]>;
const DEFINING: ReadonlySet<string> = new Set(["set", "define", "table", "column", "foot"]);
const NAME = new RegExp(`[${BLANKS}]*(?:\`([^\`\\n\\r]+)\`|([\\p{L}_][\\p{L}\\p{M}\\p{Nd}_]*))`, "uy");

/** How far a statement that is too long is looked at for its name. */
const LONGEST_HEAD = 300;

/** Reads the text of a statement, from its first word on and without the comment behind it. */
export function parseStatement(text: string): ReadStatement {
  const wordEnd = endOfWord(text, 0);
  const word = text.slice(0, wordEnd);
  if (text.length > LONGEST_STATEMENT)
    return {
      node: unread(text.slice(0, LONGEST_HEAD), word, wordEnd),
      messages: [statementTooLong(text.length)],
    };
  if (!STATEMENTS.has(word)) return unknownStatement(text, word, wordEnd);
  const read = readStatement(text);
  const { node } = read;
  const messages = withUnseen(text, read.messages);
  if (node === undefined) return { node: unread(text, word, wordEnd), messages };
  const more = faultsOfShape(node, text);
  return { node, messages: more.length === 0 ? messages : [...messages, ...more] };
}

/** Characters that cannot be seen are faults also where no token holds them: in a comment, in a name in backticks. */
function withUnseen(text: string, messages: readonly SyntaxMessage[]): readonly SyntaxMessage[] {
  const unseen = findUnseen(text);
  if (unseen === undefined || messages.some((message) => message.code === "character-unseen"))
    return messages;
  // What else seems wrong may only seem so because of it.
  return [unseenFault(unseen.at, unseen.name)];
}

/** A name of several words that someone forgot to put in backticks. */
const SEVERAL_WORDS = new RegExp(
  `^[${BLANKS}]*([\\p{L}_][\\p{L}\\p{M}\\p{Nd}_]*(?:[${BLANKS}-]+[\\p{L}\\p{M}\\p{Nd}_]+)+)[${BLANKS}]*=`,
  "u",
);

/** What a statement that cannot be read would have defined, as far as that can be told. */
function unread(text: string, keyword: string, wordEnd: number): StatementNode {
  if (!STATEMENTS.has(keyword)) return { type: "unread" };
  if (!DEFINING.has(keyword)) return { type: "unread", keyword };
  const several = SEVERAL_WORDS.exec(text.slice(wordEnd));
  if (several !== null)
    return { type: "unread", keyword, name: normal(several[1]!), defines: keyword as Defines };
  NAME.lastIndex = wordEnd;
  const match = NAME.exec(text);
  if (match === null) return { type: "unread", keyword };
  return { type: "unread", keyword, name: normal(match[1] ?? match[2]!), defines: keyword as Defines };
}

const ASSIGNMENT = new RegExp(
  `^(?:[\\p{L}_][\\p{L}\\p{M}\\p{Nd}_]*|\`[^\`\\n\\r]+\`)[${BLANKS}]*:?=(?!=)`,
  "u",
);

function unknownStatement(text: string, word: string, wordEnd: number): ReadStatement {
  const first = spanOf(0, Math.max(wordEnd, 1));
  const unseen = findUnseen(text);
  if (unseen !== undefined)
    return { node: { type: "unread" }, messages: [unseenFault(unseen.at, unseen.name)] };
  const lower = word.toLowerCase();
  if (STATEMENTS.has(lower))
    return {
      node: unread(text, lower, wordEnd),
      messages: [
        fault("statement-capital", first, `${quoted(word)} begins with a capital.`, {
          help: "The first word of a statement is written small.",
          fixes: [certainly(first, lower)],
        }),
      ],
    };
  if (ASSIGNMENT.test(text)) {
    const start = spanOf(0, 0);
    return {
      node: unread(`set ${text}`, "set", 3),
      messages: [
        fault(
          "statement-set",
          first,
          `${quoted(word === "" ? text : word)} is given a value without \`set\`.`,
          {
            help: "A value of its own begins with `set`; a column of a table begins with `column`.",
            fixes: [perhaps(start, "set "), perhaps(start, "column ")],
          },
        ),
      ],
    };
  }
  const near = nearName(word, STATEMENTS);
  if (near !== undefined)
    return {
      node: unread(text, near, wordEnd),
      messages: [
        fault("statement-unknown", first, `${quoted(word)} begins no statement; \`${near}\` is near.`, {
          help: STATEMENT_HELP,
          fixes: [perhaps(first, near)],
        }),
      ],
    };
  const says =
    wordEnd > 0
      ? `${quoted(word)} begins no statement.`
      : `A statement begins with a word, and ${quoted([...text][0]!)} is none.`;
  return {
    node: { type: "unread" },
    messages: [
      fault("statement-unknown", first, says, {
        help: STATEMENT_HELP,
        fixes: [perhaps(spanOf(0, 0), "# ", "Make it a comment")],
      }),
    ],
  };
}

const STATEMENT_HELP = `A statement begins with one of ${[...STATEMENTS].map((word) => `\`${word}\``).join(", ")}; a remark begins with \`#\`.`;

/** What the shape of a statement forbids although its grammar is right. */
function faultsOfShape(node: StatementNode, text: string): readonly SyntaxMessage[] {
  switch (node.type) {
    case "set":
      return [...fixed(node.name, node.nameSpan, "set"), ...trialFaults(node)];
    case "table":
      return fixed(node.name, node.nameSpan, "table");
    case "column":
      return fixed(node.name, node.nameSpan, "column");
    case "define":
      return parameterFaults(node);
    case "step":
      return node.asks.flatMap(({ path }) => pathFaults(path, "`ask` names a value or a column"));
    case "seen":
      return pathFaults(node.path, "`seen` names a value, a column, a cell or a definition");
    case "language":
      return versionFaults(node.version, text);
    default:
      return [];
  }
}

function fixed(name: string, span: { from: number; to: number }, what: string): readonly SyntaxMessage[] {
  return FIXED_NAMES.has(name) ? [fixedName(name, span, what)] : [];
}

function trialFaults(node: Extract<StatementNode, { type: "set" }>): readonly SyntaxMessage[] {
  if (node.trial === undefined || isPlain(node.formula)) return [];
  return [
    fault(
      "try-computed",
      node.formula.span,
      "`try` needs a plain quantity or text to move, and this is computed.",
      {
        help: "Moving the slider rewrites just that quantity. Give it a `set` of its own, and compute with its name.",
      },
    ),
  ];
}

/** A quantity, text or date as a person types it. */
export function isPlain(formula: Formula): boolean {
  switch (formula.type) {
    case "number":
    case "date":
      return true;
    case "text":
      return formula.pieces.every((piece) => typeof piece === "string");
    case "spread":
      return formula.of.type === "number" && formula.by.type === "number";
    default:
      return false;
  }
}

function parameterFaults(node: Extract<StatementNode, { type: "define" }>): readonly SyntaxMessage[] {
  const seen = new Set<string>();
  for (const { name, span } of node.parameters) {
    if (seen.has(name))
      return [
        fault("parameter-twice", span, `Two parameters are named ${quoted(name)}.`, {
          help: "Every parameter has a name of its own.",
        }),
      ];
    seen.add(name);
  }
  return [];
}

function pathFaults(path: Formula, says: string): readonly SyntaxMessage[] {
  let at = path;
  while (at.type === "part") at = at.of;
  if (at.type === "name") return [];
  return [
    fault("path-expected", path.span, `${says}, and this is something else.`, {
      help: "Write a name, or names joined with dots.",
    }),
  ];
}

/** The version that this reader knows. */
export const LANGUAGE_VERSION = 1;

function versionFaults(version: number, text: string): readonly SyntaxMessage[] {
  const span = spanOf(0, text.length);
  if (version > LANGUAGE_VERSION && Number.isInteger(version))
    return [
      fault(
        "language-newer",
        span,
        `This book is written in version ${version} of the language, and version ${LANGUAGE_VERSION} is known here.`,
        {
          help: "Open it with a newer release; what this one can read is shown, but it may be wrong.",
        },
      ),
    ];
  if (version === LANGUAGE_VERSION) return [];
  return [
    fault("language-unknown", span, "There is no such version of the language.", {
      help: `Write \`language ${LANGUAGE_VERSION}\`.`,
      fixes: [certainly(span, `language ${LANGUAGE_VERSION}`)],
    }),
  ];
}
