import { type ReactNode, useMemo } from "react";
import type { Book } from "../../engine";
import { commentAbove } from "../state/comments";
import { elementId, type Group, groupsOf, membersOf, type Placed } from "../state/items";
import type { Lit } from "../state/lit";
import { messagesOf } from "../state/messages";
import { type FirstNotes, firstNotes } from "../state/notes";
import { itemPlace } from "../state/place";
import { useStore } from "../state/store";
import { Chart } from "./Chart";
import { Checks } from "./Checks";
import { draggedMark } from "./dragging";
import { FieldText } from "./Headline";
import { Mark } from "./Mark";
import { MessageSlip } from "./Slips";
import { Steps } from "./Steps";
import { Table } from "./Table";
import { useHelp } from "./useHelp";
import { Defined, TypedValue, Value } from "./Value";
import { useNotebook } from "./workbench";

/** The book, in the order of its text. */
export function Page({ book, onPrint, tally }: { book: Book; onPrint: () => void; tally: ReactNode }) {
  const store = useNotebook();
  const draft = useStore(store, (s) => s.draft);
  const help = useHelp();
  const lit = useMemo(
    () => (draft === undefined ? undefined : help?.litBy(book, draft)),
    [book, draft, help],
  );
  const groups = groupsOf(book);
  const lastSteps = groups.findLast((g) => g.type === "steps")?.key;
  const head = groups.findIndex((g) => g.type !== "one" || !isHead(g.placed.item.type));
  const body = head === -1 ? groups.length : head;
  const first = firstNotes(book);
  const view = (group: Group) => (
    <GroupView
      key={group.key}
      book={book}
      group={group}
      lit={lit}
      first={first}
      last={group.key === lastSteps}
      onPrint={onPrint}
    />
  );
  return (
    <>
      {groups.slice(0, body).map(view)}
      {tally}
      {groups.slice(body).map(view)}
    </>
  );
}

/** The title and the words under it; the tally stands below them. */
const isHead = (type: string): boolean => type === "language" || type === "book" || type === "about";

interface GroupViewProps {
  /** Notes that each item is the first on the page to carry; those that follow from elsewhere are told by *why*. */
  readonly first: FirstNotes;
  readonly book: Book;
  readonly group: Group;
  readonly lit: Lit | undefined;
  readonly last: boolean;
  readonly onPrint: () => void;
}

function GroupView({ book, group, lit, first: notes, last, onPrint }: GroupViewProps) {
  const members = membersOf(group);
  const comment = commentAbove(book, members[0]!.item.statement);
  const messages = members.flatMap((m) => messagesOf(book, m.item));
  return (
    <>
      {comment === "" ? null : (
        <div className="line comment">
          <span className="in-margin" />
          <p className="prose">{comment}</p>
        </div>
      )}
      <Matter book={book} group={group} lit={lit} first={notes} last={last} onPrint={onPrint} />
      {messages.length === 0 ? null : (
        <div className="line">
          <span className="in-margin" />
          <div>
            {messages.map(({ message, where }) => (
              <MessageSlip key={`${message.from}-${message.code}`} message={message} where={where} />
            ))}
          </div>
        </div>
      )}
    </>
  );
}

function Matter({ book, group, lit, first, last, onPrint }: GroupViewProps) {
  if (group.type === "pairs") {
    return (
      <div className="line">
        <span className="in-margin" />
        <div className="pairs">
          {group.values.map((placed) => (
            <TypedValue
              key={placed.key}
              placed={placed}
              lit={lit?.item === placed.key}
              notes={first(placed.key)}
            />
          ))}
        </div>
      </div>
    );
  }
  if (group.type === "checks")
    return <Checks id={group.key} checks={group.checks} lit={lit?.item} first={first} />;
  if (group.type === "steps")
    return <Steps book={book} id={group.key} steps={group.steps} last={last} onPrint={onPrint} />;
  return <One book={book} placed={group.placed} lit={lit} first={first} />;
}

function One({
  book,
  placed,
  lit,
  first,
}: {
  book: Book;
  placed: Placed;
  lit: Lit | undefined;
  first: FirstNotes;
}) {
  const store = useNotebook();
  const { key, item } = placed;
  switch (item.type) {
    case "book":
      return (
        <header className="title" id={elementId(key)}>
          <h1 aria-label={item.text || "Untitled"}>
            <FieldText place={itemPlace(key, "text")} label={`title of the book, ${item.text}`}>
              {item.text || "Untitled"}
            </FieldText>
          </h1>
        </header>
      );
    case "about":
      return (
        <div className="line" id={elementId(key)}>
          <span className="in-margin" />
          <p className="prose">
            <FieldText place={itemPlace(key, "text")} label={`words: ${item.text}`}>
              {item.text}
            </FieldText>
          </p>
        </div>
      );
    case "part":
      return (
        <div className="part line" id={elementId(key)}>
          <span className="in-margin" />
          <h2 className="part-title" aria-label={item.text}>
            <FieldText place={itemPlace(key, "text")} label={`title of a part, ${item.text}`}>
              {item.text}
            </FieldText>
          </h2>
        </div>
      );
    case "value":
      return <Value placed={{ key, item }} lit={lit?.item === key} notes={first(key)} />;
    case "define":
      return <Defined placed={{ key, item }} />;
    case "table":
      return <Table id={key} item={item} lit={lit?.table === key ? lit : undefined} />;
    case "chart":
      return <Chart placed={{ key, item }} onMark={draggedMark(store, book, item)} />;
    case "unread":
      return (
        <div className="line unread" id={elementId(key)}>
          <span className="in-margin">
            <Mark name="fault" says="a fault" />
          </span>
          <FieldText place={itemPlace(key, "statement")} label={`cannot be read: ${item.text}`}>
            <pre>{item.text}</pre>
          </FieldText>
        </div>
      );
    default:
      return null;
  }
}
