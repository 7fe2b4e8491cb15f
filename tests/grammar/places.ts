import {
  type BookTree,
  childrenOf,
  type Formula,
  formulasIn,
  formulasOf,
  type Span,
  type SyntaxMessage,
} from "../../grammar";

/**
 * What must hold of every place in a tree and its messages. There are very many of them, so they are compared by
 * hand and only what is wrong is told.
 */

function must(holds: boolean, rule: string): void {
  if (!holds) throw new Error(rule);
}

function inside({ from, to }: Span, length: number): void {
  must(from >= 0 && from <= to && to <= length, `${from}..${to} lies outside a text of ${length} characters`);
}

export function messagesInside(messages: readonly SyntaxMessage[], length: number): void {
  for (const message of messages) {
    inside(message.span, length);
    for (const { edits } of message.fixes ?? []) {
      let reached = 0;
      for (const { span } of edits) {
        inside(span, length);
        must(span.from >= reached, "the edits of a fix overlap");
        reached = span.to;
      }
    }
  }
}

export function formulaInside(root: Formula, length: number): void {
  inside(root.span, length);
  for (const one of formulasIn(root))
    for (const child of childrenOf(one))
      must(
        child.span.from >= one.span.from && child.span.to <= one.span.to,
        `a ${child.type} lies outside the ${one.type} that holds it`,
      );
}

const OUTER_BLANK = /^[ \t\u00A0\u2007\u2009\u202F]|[ \t\u00A0\u2007\u2009\u202F]$/;

/** Everything that can be said of the places in a tree. */
export function soundPlaces(tree: BookTree): void {
  const { text } = tree;
  let reached = 0;
  let line = 0;
  messagesInside(tree.messages, text.length);
  for (const statement of tree.statements) {
    const { at, length, node, messages } = statement;
    must(at >= reached && length > 0, "statements overlap");
    must(statement.line > line, "two statements begin on one line");
    must(statement.line === text.slice(0, at).split("\n").length, "a statement has the wrong line");
    must(!OUTER_BLANK.test(text.slice(at, at + length)), "a statement has blanks at its ends");
    reached = at + length;
    line = statement.line;
    messagesInside(messages, length);
    for (const one of formulasOf(node)) formulaInside(one, length);
    if (node.type !== "row") continue;
    for (const { span, slot, raw } of node.cells) {
      inside(slot, length);
      must(raw === "" || text.slice(at + span.from, at + span.to) === raw, "a cell is not where it says");
    }
  }
  must(reached <= text.length, "a statement reaches beyond the text");
}
