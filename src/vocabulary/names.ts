/**
 * Names as a person means them: two writings are the same name when they differ only in case, in blanks or in how
 * an accented letter is put together.
 */
export function foldName(name: string): string {
  return name.normalize("NFC").trim().replace(/\s+/gu, " ").toLowerCase().normalize("NFC");
}
