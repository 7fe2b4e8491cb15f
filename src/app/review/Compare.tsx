import "../../../grammar/explaining-here";
import { useEffect, useMemo, useState } from "react";
import type { Book } from "../../engine";
import "../../vocabulary/whole";
import { useReckoned } from "../reckoning/useReckoned";
import { Working } from "../reckoning/Working";
import { SideSheet } from "../view/SideSheet";
import { useNotebook } from "../view/workbench";
import { ChooseOther, type Other } from "./ChooseOther";
import { Differences } from "./Differences";
import { Merge } from "./Merge";
import "./review.css";

/** Another version beside this book: what differs, and a way to bring the two together. */
export default function Compare({ book }: { book: Book }) {
  const store = useNotebook();
  const [other, setOther] = useState<Other>();
  const [merging, setMerging] = useState(false);
  const job = useMemo(
    () =>
      other === undefined ? undefined : ({ do: "compare", here: book.text, there: other.text } as const),
    [other, book.text],
  );
  const compared = useReckoned(job);
  // While it is compared anew, what was known stays in sight.
  const [last, setLast] = useState<Extract<typeof compared.is, { state: "done" }>>();
  useEffect(() => {
    if (compared.is?.state === "done") setLast(compared.is);
  }, [compared.is]);
  const shown = compared.is?.state === "done" ? compared.is : last;
  const close = () => store.send({ type: "side", side: "none" });
  const leave = () => {
    setOther(undefined);
    setLast(undefined);
    setMerging(false);
  };
  if (other === undefined)
    return (
      <SideSheet label="Compare" title="Compare" onClose={close}>
        <ChooseOther onChoose={setOther} />
      </SideSheet>
    );
  const same = other.text === book.text;
  const nothing =
    shown !== undefined && shown.result.differences.length === 0 && shown.result.words.length === 0;
  return (
    <SideSheet
      label={`Compare with ${other.name}`}
      title={
        <>
          <span className="ask">Compare with</span> {other.name}
        </>
      }
      onClose={close}
    >
      <p className="fixes">
        {same ? null : (
          <button
            type="button"
            className="act framed"
            aria-expanded={merging}
            onClick={() => setMerging(!merging)}
          >
            {merging ? "Leave them apart" : "Bring the two together"}
          </button>
        )}
        <button type="button" className="act" onClick={leave}>
          Another one
        </button>
      </p>
      {merging && !same ? <Merge book={book} other={other} onDone={() => setMerging(false)} /> : null}
      <Working
        is={compared.is}
        says={`Comparing with ${other.name}`}
        onStop={compared.stop}
        onAgain={compared.again}
      />
      {same || nothing ? (
        <p role="status">
          {same ? "The two say the same, letter by letter." : "The two say the same in other words."}
        </p>
      ) : shown === undefined ? null : (
        <Differences of={shown.result} book={book} />
      )}
    </SideSheet>
  );
}
