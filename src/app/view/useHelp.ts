import { useEffect } from "react";
import { parcel, useDelivery } from "./parcel";

type Help = typeof import("../state/help");

/**
 * What helps while something is written: offers, what a draft would become, what a name means. It is fetched as soon
 * as a book is on the page, and read by whoever needs it once it is there; reading a book does not wait for it. When
 * it does not come, whoever needs it next asks again, and until then nothing is offered.
 */
const help = parcel("Help", () => import("../state/help"));

export function useHelp(): Help | undefined {
  const delivery = useDelivery(help);
  useEffect(() => help.ask(), []);
  return delivery.is === "here" ? delivery.held : undefined;
}
