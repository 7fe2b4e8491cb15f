import { Trouble } from "../../quantity";

/**
 * What a file may cost us before we turn it away. A sheet of a kitchen holds hundreds of rows; these bounds
 * leave room for a year's records and stop a small file that unfolds into a large one.
 */
export const LIMITS = {
  fileBytes: 30 * 1024 * 1024,
  zipEntries: 2_000,
  /** One part of a package, inflated. */
  partBytes: 120 * 1024 * 1024,
  /** All parts that are read, inflated. */
  totalBytes: 160 * 1024 * 1024,
  /** Inflated to packed, for parts above a megabyte. */
  ratio: 300,
  xmlDepth: 64,
  sheets: 60,
  rows: 100_000,
  columns: 256,
  /** Filled cells over all sheets. */
  cells: 1_000_000,
  /** Rows and places in rows that must be kept for them, empty ones included. */
  places: 4_000_000,
  cellCharacters: 10_000,
  /** Columns that a proposed table may have, and rows; more is a table that no one reads. */
  tableColumns: 100,
} as const;

/** Words out of a file, fit for a sentence: no controls, and not the whole file. */
const plainly = (how: string): string => {
  const text = how.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, "");
  return [...text].length <= 200 ? text : `${[...text].slice(0, 199).join("")}…`;
};

export const damaged = (how: string): Trouble =>
  new Trouble({
    code: "table-file-damaged",
    says: `This file is damaged: ${plainly(how)}.`,
    help: "Open it in the program that made it and save it again, or ask for it once more. Nothing was changed here.",
  });

export const tooLarge = (how: string): Trouble =>
  new Trouble({
    code: "table-file-too-large",
    says: `This file is too large to read here: ${plainly(how)}.`,
    help: "Copy the part that you need into a file of its own.",
  });

export const locked = (): Trouble =>
  new Trouble({
    code: "table-file-locked",
    says: "This file is locked with a password, so nothing in it can be read.",
    help: "Open it where it was made and save a copy without a password.",
  });

export const refused = (how: string): Trouble =>
  new Trouble({
    code: "table-file-refused",
    says: `This file holds ${how}, which no table needs and which can do harm, so it was not opened.`,
    help: "Save the table as CSV and bring that in.",
  });
