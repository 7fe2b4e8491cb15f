export interface Example {
  readonly file: string;
  readonly title: string;
  readonly says: string;
  /** How full its jar is drawn, in per cent. */
  readonly fill: number;
  /** Fetches its text: the start shows what a book is about, and need not wait for all of them. */
  readonly text: () => Promise<string>;
}

/** The books that come with the page. Each opens as a new copy. */
export const examples: readonly Example[] = [
  {
    file: "harbour-gin.vacuo",
    title: "Harbour gin, spring trial",
    fill: 72,
    says: "Five single distillates married to one blend and let down to label strength: water to add, bottles, cost.",
    text: async () => (await import("../../../workbooks/harbour-gin.vacuo?raw")).default,
  },
  {
    file: "bay-honey.vacuo",
    title: "Bay-leaf honey",
    fill: 48,
    says: "Thin a honey with an infusion and drive the water off again: how much infusion it can take.",
    text: async () => (await import("../../../workbooks/bay-honey.vacuo?raw")).default,
  },
  {
    file: "still-setting.vacuo",
    title: "Setting the still",
    fill: 34,
    says: "Which pull for which liquid, with the bath and the coolant that the bench has.",
    text: async () => (await import("../../../workbooks/still-setting.vacuo?raw")).default,
  },
  {
    file: "coriander-trials.vacuo",
    title: "Coriander, eight runs",
    fill: 56,
    says: "The same run done several times: what it gave, how evenly, and whether a change made a difference.",
    text: async () => (await import("../../../workbooks/coriander-trials.vacuo?raw")).default,
  },
  {
    file: "dry-cider.vacuo",
    title: "Orchard cider without the alcohol",
    fill: 88,
    says: "Take the alcohol out of a cider and give the water back: volumes and strengths on both sides.",
    text: async () => (await import("../../../workbooks/dry-cider.vacuo?raw")).default,
  },
];

const begun = (file: keyof typeof import("./beginnings").texts) => async () =>
  (await import("./beginnings")).texts[file];

/** Beginnings: small books that stand on their own feet and ask for one's own numbers. */
export const beginnings: readonly Example[] = [
  {
    file: "my-blend.vacuo",
    title: "My blend",
    fill: 20,
    says: "Distillates in a table, their blend, and the water that brings it to strength.",
    text: begun("my-blend.vacuo"),
  },
  {
    file: "my-honey.vacuo",
    title: "My honey",
    fill: 15,
    says: "A honey, an infusion, and the water that has to come off again.",
    text: begun("my-honey.vacuo"),
  },
  {
    file: "my-run.vacuo",
    title: "My run",
    fill: 10,
    says: "One charge at one pull: where it boils, what comes over, a card for the bench.",
    text: begun("my-run.vacuo"),
  },
];

/** The empty book. */
export const emptyBook = 'book "Untitled"\n\n';
