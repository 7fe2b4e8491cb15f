import type { Statement } from "../../../grammar";
import type { Book, Item, Message } from "../../engine";
import { partsOf } from "./paths";

export interface PlacedMessage {
  readonly message: Message;
  /** The place in words: "Run 4, strength"; undefined when the message hangs right under it. */
  readonly where?: string | undefined;
}

/** The statements that belong to an item: a table has its rows, columns and feet. */
function statementsOf(item: Item): readonly Statement[] {
  if (item.type !== "table") return [item.statement];
  const { tree } = item;
  return [
    tree.statement,
    ...(tree.heading ? [tree.heading] : []),
    ...tree.rows,
    ...tree.columns,
    ...tree.feet,
  ];
}

/** Messages that hang on one item are few; more than this says that the rest is in the text. */
const MOST = 8;

/** The messages that stand inside an item, each with its place in words. */
export function messagesOf(book: Book, item: Item): readonly PlacedMessage[] {
  if (book.messages.length === 0) return [];
  const statements = statementsOf(item);
  const inside = book.messages.filter((m) =>
    statements.some((s) => m.from >= s.at && m.from <= s.at + s.length),
  );
  return inside.slice(0, MOST).map((message) => ({ message, where: whereOf(item, message) }));
}

function whereOf(item: Item, message: Message): string | undefined {
  if (item.type !== "table" || message.path === undefined) return undefined;
  const parts = partsOf(message.path);
  return parts.length > 1 ? parts.slice(1).join(", ") : undefined;
}
