import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { WrongCall } from "./wrong-call";

/** The folder of this package, from the built command as well as from its source. */
export function packageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!isPackage(folder)) {
    const above = dirname(folder);
    if (above === folder)
      throw new WrongCall("The files of invacuo are not where they belong.", "Install it again.");
    folder = above;
  }
  return folder;
}

function isPackage(folder: string): boolean {
  const file = join(folder, "package.json");
  return existsSync(file) && JSON.parse(readFileSync(file, "utf8")).name === "invacuo";
}
