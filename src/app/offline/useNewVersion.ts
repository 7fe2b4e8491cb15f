import { useEffect, useState } from "react";
import type { Notice } from "../view/NoticeSlip";
import { type TakeOver, watchForNewVersion } from "./new-version";
import { openAgainAfterReload } from "./open-again";

/** What an open book answers when it is asked to save: the id under which it is kept, or that it could not be. */
export type SaveNow = () => Promise<{ readonly kept: string } | { readonly unkept: string }>;

/** Says when a newer version of the page is ready; changing over saves the open book first. */
export function useNewVersion(
  saveOpenBook: () => SaveNow | undefined,
  tell: (says: string) => void,
): readonly Notice[] {
  const [ready, setReady] = useState<TakeOver>();
  useEffect(() => watchForNewVersion((takeOver) => setReady(() => takeOver)), []);
  if (ready === undefined) return [];
  const change = async () => {
    const saved = await saveOpenBook()?.();
    if (saved !== undefined && "unkept" in saved) {
      tell(`The page was not loaded again, because ${saved.unkept}`);
      return;
    }
    if (saved !== undefined) openAgainAfterReload(saved.kept);
    await ready();
  };
  return [
    {
      grave: false,
      says: "A new version is ready.",
      answers: [
        { word: "Save and reload", act: () => void change() },
        { word: "Later", act: () => setReady(undefined) },
      ],
    },
  ];
}
