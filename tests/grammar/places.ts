import { expect } from "vitest";
import {
  type BookTree,
  childrenOf,
  type Formula,
  formulasIn,
  formulasOf,
  type Span,
  type SyntaxMessage,
} from "../../grammar";

/** What must hold of every place in a tree and its messages. */

function inside(span: Span, length: number): void {
  expect(span.from).toBeGreaterThanOrEqual(0);
  expect(span.to).toBeGreaterThanOrEqual(span.from);
  expect(span.to).toBeLessThanOrEqual(length);
}

export function messagesInside(messages: readonly SyntaxMessage[], length: number): void {
  for (const message of messages) {
    inside(message.span, length);
    for (const { edits } of message.fixes ?? []) {
      let reached = 0;
      for (const { span } of edits) {
        inside(span, length);
        expect(span.from).toBeGreaterThanOrEqual(reached);
        reached = span.to;
      }
    }
  }
}

export function formulaInside(root: Formula, length: number): void {
  inside(root.span, length);
  for (const one of formulasIn(root))
    for (const child of childrenOf(one)) {
      expect(child.span.from).toBeGreaterThanOrEqual(one.span.from);
      expect(child.span.to).toBeLessThanOrEqual(one.span.to);
    }
}

/** Everything that can be said of the places in a tree. */
export function soundPlaces(tree: BookTree): void {
  const { text } = tree;
  let reached = 0;
  let line = 0;
  messagesInside(tree.messages, text.length);
  for (const statement of tree.statements) {
    const { at, length, node, messages } = statement;
    expect(at).toBeGreaterThanOrEqual(reached);
    expect(length).toBeGreaterThan(0);
    expect(statement.line).toBeGreaterThan(line);
    expect(statement.line).toBe(text.slice(0, at).split("\n").length);
    expect(text.slice(at, at + length)).not.toMatch(
      /^[ \t\u00A0\u2007\u2009\u202F]|[ \t\u00A0\u2007\u2009\u202F]$/,
    );
    reached = at + length;
    line = statement.line;
    messagesInside(messages, length);
    for (const one of formulasOf(node)) formulaInside(one, length);
    if (node.type === "row")
      for (const { span, slot, raw } of node.cells) {
        inside(slot, length);
        if (raw !== "") expect(text.slice(at + span.from, at + span.to)).toBe(raw);
      }
  }
  expect(reached).toBeLessThanOrEqual(text.length);
}
