import { useEffect, useState } from "react";
import { useStore } from "../state/store";
import { useNotebook } from "./workbench";

/** Milliseconds for which words stay. They are read aloud as well, and nothing depends on seeing them. */
const STAYS = 6000;

/** What just happened out of sight, or could not be done, above the formula line for a moment. */
export function Told() {
  const store = useNotebook();
  const told = useStore(store, (s) => s.told);
  const [shown, setShown] = useState(told);
  useEffect(() => {
    if (told === undefined) return;
    setShown(told);
    const gone = setTimeout(() => setShown(undefined), STAYS);
    return () => clearTimeout(gone);
  }, [told]);
  return shown === undefined ? null : (
    <p className="told" aria-hidden="true">
      {shown.text}
    </p>
  );
}
