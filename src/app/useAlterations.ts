import { useEffect } from "react";
import type { Notice } from "./view/NoticeSlip";
import { parcel, useDelivery } from "./view/parcel";

const alterations = parcel("What adds, moves and renames", () => import("../../grammar/alterations-here"));

/**
 * Fetches the edits that a book is opened without, as soon as one is on the page. Numbers and formulas can be written
 * before they come; anything else is refused until then and stays with the writer. When they do not come, that is told.
 */
export function useAlterations(): readonly Notice[] {
  const delivery = useDelivery(alterations);
  useEffect(() => alterations.ask(), []);
  if (delivery.is !== "away") return [];
  return [
    {
      grave: true,
      says: "What adds, moves and renames could not be fetched; numbers and formulas can be written. Look whether this device is on its network. Nothing of the book is lost.",
      answers: [{ word: "Try again", act: () => alterations.ask() }],
    },
  ];
}
