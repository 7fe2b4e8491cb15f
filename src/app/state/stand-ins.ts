/** Words that something fresh is made with, until the writer puts others in their place. */
export const standIns = {
  table: "New table",
  check: "say what must hold",
  chart: "New chart",
  step: "Say what to do.",
  words: "Say something.",
  part: "New part",
} as const;
