import { type ReactNode, useEffect, useMemo, useState } from "react";
import { takeTables } from "../state/incoming";
import { elementId, type Graduation, outline, placedItems } from "../state/items";
import { anywhere } from "../state/keys";
import { useStore } from "../state/store";
import { Adds } from "./Adds";
import { Fetched } from "./Fetched";
import { FormulaLine, itemCommands } from "./FormulaLine";
import { Mark } from "./Mark";
import { type Notice, NoticeSlip } from "./NoticeSlip";
import { offersBox } from "./Offers";
import { Page } from "./Page";
import { PrintCard } from "./PrintCard";
import { inQuiet, type Parcel, parcel } from "./parcel";
import { pressing } from "./pressing";
import { Rail } from "./Rail";
import { SideSheet } from "./SideSheet";
import { Strip, type StripProps } from "./Strip";
import { chosenCommands } from "./TableCommands";
import { Told } from "./Told";
import { useHelp } from "./useHelp";
import { pressOf } from "./WritingPlace";
import { wordsOf } from "./words";
import { useNotebook } from "./workbench";

/** What is not needed at once is fetched when it is asked for. */
const why = parcel("What explains the value", () => import("./Why"));
const functions = parcel("The list of functions", () => import("./Functions"));
const readThrough = parcel("The read-through", () => import("../review/ReadThrough"));
const compare = parcel("What compares books", () => import("../review/Compare"));
const textPane = parcel("The place for the text", () => import("./TextPane"));
const pastePreview = parcel("The preview of what is pasted", () => import("./PastePreview"));
const tablesIn = parcel("What reads tables", () => import("../tables/TablesIn"));

/** What is asked for soon, and does not wait for that: it is fetched once the book is on the page. */
const soon = [offersBox, itemCommands, why, functions, chosenCommands] as const;

interface NotebookViewProps extends StripProps {
  readonly notices: readonly Notice[];
}

/** An open book: contents, page, what stands beside it, and the formula line. */
export function NotebookView(props: NotebookViewProps) {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const side = useStore(store, (s) => s.side);
  const said = useStore(store, (s) => s.said);
  const paste = useStore(store, (s) => s.paste);
  const bring = useStore(store, (s) => s.bring);
  const { onSave, onPrintCard } = props;

  // Only for those who hear the page, who hear what changes in a place that is there already.
  const [opened, setOpened] = useState("");
  useEffect(() => setOpened(`${store.get().book.title || "The book"} is open.`), [store]);
  useEffect(
    () =>
      takeTables((file) => {
        file.arrayBuffer().then(
          (data) =>
            store.send({
              type: "bring",
              what: { is: "file", name: file.name, bytes: new Uint8Array(data) },
            }),
          (error: unknown) => store.send({ type: "say", text: `${file.name}: ${wordsOf(error)}` }),
        );
      }),
    [store],
  );
  useEffect(() => {
    inQuiet(() => {
      for (const each of soon) each.ask();
    });
  }, []);
  useEffect(() => {
    document.title = book.title === "" ? "Invacuo" : `${book.title} · Invacuo`;
  }, [book.title]);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.defaultPrevented) return;
      const command = anywhere(pressOf({ ...native(event) }));
      if (command.do === "save") {
        event.preventDefault();
        if (store.get().draft !== undefined) store.send({ type: "keep", next: "stay" });
        onSave();
        return;
      }
      if (command.do !== "undo" && command.do !== "redo") return;
      // An open field has an undo of its own.
      if (store.get().draft !== undefined || inOwnField(event.target)) return;
      event.preventDefault();
      store.send({ type: command.do });
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, [store, onSave]);

  const help = useHelp();
  const marked = useMemo(() => (help?.markedOutline ?? outline)(book), [book, help]);
  const first = placedItems(book)[0];
  return (
    <div className="bench" data-side={side} {...pressing(store)}>
      <Rail graduations={marked} name="Invacuo" />
      <main className="page" id="page">
        <Strip {...props} />
        {props.notices.map((notice) => (
          <NoticeSlip key={notice.says} notice={notice} />
        ))}
        {first?.item.type === "book" ? null : (
          <header className="title">
            <h1>Untitled</h1>
          </header>
        )}
        <Page book={book} onPrint={onPrintCard} tally={<Tally marked={marked} />} />
        <Adds />
      </main>
      {side === "why" ? (
        <Side of={why} label="Why">
          {({ Why }) => <Why book={book} />}
        </Side>
      ) : null}
      {side === "text" ? (
        <Side of={textPane} label="Text of the book" className="text">
          {({ default: TextPane }) => <TextPane book={book} />}
        </Side>
      ) : null}
      {side === "functions" ? (
        <Side of={functions} label="Functions">
          {({ default: Functions }) => <Functions />}
        </Side>
      ) : null}
      {side === "read" ? (
        <Side of={readThrough} label="Read-through">
          {({ default: ReadThrough }) => <ReadThrough book={book} />}
        </Side>
      ) : null}
      {side === "compare" ? (
        <Side of={compare} label="Compare">
          {({ default: Compare }) => <Compare book={book} />}
        </Side>
      ) : null}
      <FormulaLine book={book} />
      <Told />
      <PrintCard book={book} />
      {bring === undefined ? null : (
        <Fetched of={tablesIn} frame={aside}>
          {({ default: TablesIn }) => <TablesIn incoming={bring} book={book} />}
        </Fetched>
      )}
      {paste === undefined ? null : (
        <Fetched of={pastePreview} frame={aside}>
          {({ default: PastePreview }) => <PastePreview question={paste} book={book} />}
        </Fetched>
      )}
      <p className="unseen" role="status" aria-live="polite" aria-atomic="true">
        {said || opened}
      </p>
    </div>
  );
}

interface SideProps<T> {
  readonly of: Parcel<T>;
  readonly label: string;
  readonly className?: string;
  readonly children: (held: T) => ReactNode;
}

/** What stands beside the page, in a sheet that can be closed while it is on its way. */
function Side<T>({ of, label, className, children }: SideProps<T>) {
  const store = useNotebook();
  const close = () => store.send({ type: "side", side: "none" });
  return (
    <Fetched
      of={of}
      frame={(words) => (
        <SideSheet label={label} title={label} onClose={close} {...(className && { className })}>
          {words}
        </SideSheet>
      )}
    >
      {children}
    </Fetched>
  );
}

/** Where a box will open that is on its way. */
const aside = (words: ReactNode) => <div className="on-its-way">{words}</div>;

/** How the book stands: faults, checks not met, gaps; each a link to the first of them. */
function Tally({ marked }: { marked: readonly Graduation[] }) {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const { faults, gaps, unmet } = book.tally;
  const link = (mark: "fault" | "gap" | "unmet") => {
    const key = marked.find((g) => g.mark === mark)?.key;
    return key === undefined ? undefined : `#${elementId(key)}`;
  };
  const checks = placedItems(book).some(({ item }) => item.type === "check");
  const entries = [
    { mark: "fault" as const, count: faults, words: faults === 1 ? "1 fault" : `${faults} faults` },
    {
      mark: "unmet" as const,
      count: unmet,
      words: unmet === 1 ? "1 check not met" : `${unmet} checks not met`,
    },
    { mark: "gap" as const, count: gaps, words: gaps === 1 ? "1 gap" : `${gaps} gaps` },
  ].filter((e) => e.count > 0);
  // The line keeps its place when nothing is left to say, so that the page stands still.
  return (
    <p className="line tally-line">
      <span className="in-margin" />
      <span className="tally">
        {entries.map((e) => (
          <a key={e.mark} href={link(e.mark) ?? "#page"}>
            <Mark name={e.mark} />
            {e.words}
          </a>
        ))}
        {entries.length === 0 && checks && book.tally.unknown === 0 ? (
          <span className="all-met">
            <Mark name="met" />
            every check is met
          </span>
        ) : null}
      </span>
    </p>
  );
}

const inOwnField = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.closest(
    "input:not([type=range], [type=radio], [type=checkbox], [type=file]), .text-sheet textarea, .own-undo",
  ) !== null;

/** A browser's key event in the shape that the key table reads. */
const native = (event: KeyboardEvent) =>
  ({
    key: event.key,
    ctrlKey: event.ctrlKey,
    metaKey: event.metaKey,
    shiftKey: event.shiftKey,
    altKey: event.altKey,
    keyCode: event.keyCode,
    nativeEvent: event,
  }) as unknown as React.KeyboardEvent;
