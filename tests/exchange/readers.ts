import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { strFromU8, unzipSync } from "fflate";

/**
 * Other programs that read what we write: office suites as independent calculators, schema validators, and a
 * library that shows the stored values. Where one is missing the tests that need it are skipped, in their name
 * and on the terminal, never in silence.
 */
const works = (command: string, args: string[]): boolean => {
  try {
    const run = spawnSync(command, args, { stdio: "ignore", timeout: 60_000 });
    return run.error === undefined;
  } catch {
    return false;
  }
};
const PYTHON = ["/usr/bin/python3", "python3"].find(
  (p) => spawnSync(p, ["-c", "import openpyxl"], { stdio: "ignore" }).status === 0,
);
const SCHEMA_FOLDER = process.env.ODF_SCHEMA ?? join(import.meta.dirname, "schema");

export const has = {
  libreoffice: works("soffice", ["--version"]),
  gnumeric: works("ssconvert", ["--version"]),
  openpyxl: PYTHON !== undefined,
  schema: existsSync(join(SCHEMA_FOLDER, "OpenDocument-v1.3-schema.rng")),
  validator: works("jing", []) ? "jing" : works("xmllint", ["--version"]) ? "xmllint" : undefined,
};

/** The title of a test that needs a reader; says so in words when it will be skipped. */
export function needing(what: string, present: boolean, title: string): string {
  if (present) return title;
  console.warn(`SKIPPED because ${what} is not on this machine: ${title}`);
  return `${title} [SKIPPED: ${what} is not on this machine]`;
}

const folders: string[] = [];
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), "exchange-"));
  folders.push(folder);
  return folder;
}
export function sweepScratch(): void {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
}

/** What a reader sees in a cell: its value, and its formula when it has one. */
export interface SeenCell {
  readonly value: number | string | boolean | null;
  readonly formula: string | null;
}
export type SeenBook = ReadonlyMap<string, readonly (readonly SeenCell[])[]>;

const DUMP = `
import sys, json, datetime, openpyxl
values = openpyxl.load_workbook(sys.argv[1], data_only=True)
formulas = openpyxl.load_workbook(sys.argv[1])
def plain(v):
    if isinstance(v, datetime.datetime): return v.date().isoformat()
    if isinstance(v, (datetime.date, datetime.time)): return v.isoformat()
    if isinstance(v, (int, float, str, bool)) or v is None: return v
    return str(v)
out = {}
for sheet in values.worksheets:
    other = formulas[sheet.title]
    rows = []
    for row in sheet.iter_rows():
        line = []
        for cell in row:
            twin = other.cell(cell.row, cell.column)
            line.append({"value": plain(cell.value), "formula": str(twin.value) if twin.data_type == "f" else None})
        rows.append(line)
    out[sheet.title] = rows
json.dump(out, sys.stdout)
`;

/** An .xlsx file as openpyxl reads it: values are the stored ones, nothing is recalculated. */
export function seenByOpenpyxl(file: string): SeenBook {
  const json = execFileSync(PYTHON!, ["-c", DUMP, file], { maxBuffer: 256 * 1024 * 1024 });
  return new Map(Object.entries(JSON.parse(json.toString("utf8"))));
}

const ALWAYS_RECALCULATE = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

/** A spreadsheet recalculated by LibreOffice, its values read back through .xlsx. */
export function recalculatedByLibreOffice(bytes: Uint8Array, ending: "ods" | "xlsx"): SeenBook {
  const folder = scratch();
  const file = join(folder, `in.${ending}`);
  writeFileSync(file, bytes);
  mkdirSync(join(folder, "out"));
  mkdirSync(join(folder, "profile", "user"), { recursive: true });
  // Without this the suite would show the stored values.
  writeFileSync(join(folder, "profile", "user", "registrymodifications.xcu"), ALWAYS_RECALCULATE);
  execFileSync(
    "soffice",
    [
      "--headless",
      "--norestore",
      `-env:UserInstallation=file://${join(folder, "profile")}`,
      "--convert-to",
      "xlsx",
      "--outdir",
      join(folder, "out"),
      file,
    ],
    { stdio: "ignore", timeout: 180_000 },
  );
  return seenByOpenpyxl(join(folder, "out", "in.xlsx"));
}

/** A spreadsheet recalculated by Gnumeric. */
export function recalculatedByGnumeric(bytes: Uint8Array, ending: "ods" | "xlsx"): SeenBook {
  const folder = scratch();
  const file = join(folder, `in.${ending}`);
  writeFileSync(file, bytes);
  const out = join(folder, "out.xlsx");
  execFileSync("ssconvert", ["--recalc", file, out], { stdio: "ignore", timeout: 120_000 });
  return seenByOpenpyxl(out);
}

/** Complaints of the schema validator about the parts of an .ods package; empty when it is valid. */
export function schemaComplaints(bytes: Uint8Array): string[] {
  const folder = scratch();
  const complaints: string[] = [];
  for (const [path, part] of Object.entries(unzipSync(bytes))) {
    if (!path.endsWith(".xml")) continue;
    const file = join(folder, path.replaceAll("/", "_").replaceAll(" ", "_"));
    writeFileSync(file, part);
    const schema = join(
      SCHEMA_FOLDER,
      path === "META-INF/manifest.xml"
        ? "OpenDocument-v1.3-manifest-schema.rng"
        : "OpenDocument-v1.3-schema.rng",
    );
    const run =
      has.validator === "jing"
        ? spawnSync("jing", ["-i", schema, file], { encoding: "utf8" })
        : spawnSync("xmllint", ["--noout", "--relaxng", schema, file], { encoding: "utf8" });
    if (run.status !== 0) complaints.push(`${path}: ${(run.stdout + run.stderr).slice(0, 2000)}`);
  }
  return complaints;
}

/** A part of a zip package as text. */
export const partOf = (bytes: Uint8Array, path: string): string => {
  const part = unzipSync(bytes)[path];
  if (part === undefined) throw new Error(`no part ${path}`);
  return strFromU8(part);
};

export const nameOf = (file: string): string => basename(file);
export const readBytes = (file: string): Uint8Array => new Uint8Array(readFileSync(file));
