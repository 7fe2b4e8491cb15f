/** The time of day where the person is. */
export const timeOfDay = (at: number): string =>
  new Date(at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
/** Day and time, for what may be from another day. */
export const dayAndTime = (at: number): string =>
  new Date(at).toLocaleString("en-GB", {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  });
