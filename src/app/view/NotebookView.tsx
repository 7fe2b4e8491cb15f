import { lazy, type ReactNode, Suspense, useEffect } from "react";
import { takeTables } from "../state/incoming";
import { elementId, outline, placedItems } from "../state/items";
import { anywhere } from "../state/keys";
import { useStore } from "../state/store";
import { Adds } from "./Adds";
import { FormulaLine } from "./FormulaLine";
import { Mark } from "./Mark";
import { type Notice, NoticeSlip } from "./NoticeSlip";
import { Page } from "./Page";
import { PrintCard } from "./PrintCard";
import { Rail } from "./Rail";
import { SideSheet } from "./SideSheet";
import { Strip, type StripProps } from "./Strip";
import { Told } from "./Told";
import { Why } from "./Why";
import { pressOf } from "./WritingPlace";
import { wordsOf } from "./words";
import { useNotebook } from "./workbench";

/** What is not needed at once is fetched when it is asked for. */
const Functions = lazy(() => import("./Functions"));
const ReadThrough = lazy(() => import("../review/ReadThrough"));
const Compare = lazy(() => import("../review/Compare"));
const TextPane = lazy(() => import("./TextPane"));
const PastePreview = lazy(() => import("./PastePreview"));
const TablesIn = lazy(() => import("../tables/TablesIn"));

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

  const first = placedItems(book)[0];
  return (
    <div className="bench" data-side={side}>
      <Rail graduations={outline(book)} name="Invacuo" />
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
        <Page book={book} onPrint={onPrintCard} tally={<Tally />} />
        <Adds />
      </main>
      {side === "why" ? <Why book={book} /> : null}
      {side === "text" ? (
        <Fetched label="Text of the book" className="text">
          <TextPane book={book} />
        </Fetched>
      ) : null}
      {side === "functions" ? (
        <Fetched label="Functions">
          <Functions />
        </Fetched>
      ) : null}
      {side === "read" ? (
        <Fetched label="Read-through">
          <ReadThrough book={book} />
        </Fetched>
      ) : null}
      {side === "compare" ? (
        <Fetched label="Compare">
          <Compare book={book} />
        </Fetched>
      ) : null}
      <FormulaLine book={book} />
      <Told />
      <PrintCard book={book} />
      {bring === undefined ? null : (
        <Suspense fallback={null}>
          <TablesIn incoming={bring} book={book} />
        </Suspense>
      )}
      {paste === undefined ? null : (
        <Suspense fallback={null}>
          <PastePreview question={paste} book={book} />
        </Suspense>
      )}
      <p className="unseen" role="status" aria-live="polite">
        {said}
      </p>
    </div>
  );
}

/** A side that is on its way. */
function Fetched({ label, className, children }: { label: string; className?: string; children: ReactNode }) {
  const store = useNotebook();
  const close = () => store.send({ type: "side", side: "none" });
  return (
    <Suspense
      fallback={
        <SideSheet label={label} title={label} onClose={close} {...(className && { className })}>
          <p className="source">One moment</p>
        </SideSheet>
      }
    >
      {children}
    </Suspense>
  );
}

/** How the book stands: faults, checks not met, gaps; each a link to the first of them. */
function Tally() {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const { faults, gaps, unmet } = book.tally;
  const marked = outline(book);
  const link = (mark: "fault" | "gap" | "unmet") => {
    const key = marked.find((g) => g.mark === mark)?.key;
    return key === undefined ? undefined : `#${elementId(key)}`;
  };
  const entries = [
    { mark: "fault" as const, count: faults, words: faults === 1 ? "1 fault" : `${faults} faults` },
    {
      mark: "unmet" as const,
      count: unmet,
      words: unmet === 1 ? "1 check not met" : `${unmet} checks not met`,
    },
    { mark: "gap" as const, count: gaps, words: gaps === 1 ? "1 gap" : `${gaps} gaps` },
  ].filter((e) => e.count > 0);
  if (entries.length === 0) return null;
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
