import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { strFromU8, unzipSync } from "fflate";

/**
 * Other programs that read what we write: office suites as independent calculators, a schema validator, and a
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
const SCHEMAS = join(import.meta.dirname, "schema");

export const has = {
  libreoffice: works("soffice", ["--version"]),
  gnumeric: works("ssconvert", ["--version"]),
  openpyxl: PYTHON !== undefined,
  jing: works("jing", []),
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
def plain(v):
    if isinstance(v, datetime.datetime): return v.date().isoformat()
    if isinstance(v, (datetime.date, datetime.time)): return v.isoformat()
    if isinstance(v, (int, float, str, bool)) or v is None: return v
    return str(v)
for file in sys.argv[1:]:
    values = openpyxl.load_workbook(file, data_only=True)
    formulas = openpyxl.load_workbook(file)
    out = {}
    for sheet in values.worksheets:
        other = formulas[sheet.title]
        rows = []
        for row, twins in zip(sheet.iter_rows(), other.iter_rows()):
            line = []
            for cell, twin in zip(row, twins):
                line.append({"value": plain(cell.value), "formula": str(twin.value) if twin.data_type == "f" else None})
            rows.append(line)
        out[sheet.title] = rows
    print(json.dumps(out))
`;

/** .xlsx files as openpyxl reads them: values are the stored ones, nothing is recalculated. */
function seenInFiles(files: readonly string[]): SeenBook[] {
  const out = execFileSync(PYTHON!, ["-c", DUMP, ...files], {
    // Its warnings go into the error when it fails, and nowhere when it does not.
    stdio: ["ignore", "pipe", "pipe"],
    maxBuffer: 1024 * 1024 * 1024,
  });
  const lines = out.toString("utf8").trimEnd().split("\n");
  if (lines.length !== files.length) throw new Error(`${lines.length} files read of ${files.length}`);
  return lines.map((line) => new Map(Object.entries(JSON.parse(line))));
}

/** Packages by name, each as a reader sees it. Readers are started once for all: their start is what takes long. */
type Packages = ReadonlyMap<string, Uint8Array>;
export type Ending = "ods" | "xlsx";

/** Puts packages into files of a folder, in their order. */
function laidOut(packages: Packages, ending: Ending, folder: string): { name: string; file: string }[] {
  return [...packages].map(([name, bytes], i) => {
    const file = join(folder, `${i}.${ending}`);
    writeFileSync(file, bytes);
    return { name, file };
  });
}
const named = (names: readonly string[], seen: readonly SeenBook[]): Map<string, SeenBook> =>
  new Map(names.map((name, i) => [name, seen[i]!]));

/** .xlsx packages as openpyxl reads them. */
export function seenByOpenpyxl(packages: Packages): Map<string, SeenBook> {
  const laid = laidOut(packages, "xlsx", scratch());
  return named([...packages.keys()], seenInFiles(laid.map((l) => l.file)));
}

const ALWAYS_RECALCULATE = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

/** Spreadsheets recalculated by LibreOffice, their values read back through .xlsx. */
export function recalculatedByLibreOffice(packages: Packages, ending: Ending): Map<string, SeenBook> {
  const folder = scratch();
  const laid = laidOut(packages, ending, folder);
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
      ...laid.map((l) => l.file),
    ],
    { stdio: "ignore", timeout: 600_000 },
  );
  const made = laid.map(({ file }) => join(folder, "out", basename(file).replace(/\.\w+$/, ".xlsx")));
  return named([...packages.keys()], seenInFiles(made));
}

/** Spreadsheets recalculated by Gnumeric. */
export function recalculatedByGnumeric(packages: Packages, ending: Ending): Map<string, SeenBook> {
  const folder = scratch();
  const made = laidOut(packages, ending, folder).map(({ file }) => {
    const out = `${file}.out.xlsx`;
    execFileSync("ssconvert", ["--recalc", file, out], { stdio: "ignore", timeout: 120_000 });
    return out;
  });
  return named([...packages.keys()], seenInFiles(made));
}

/** A single package, recalculated. */
export const alone = (
  recalculated: (packages: Packages, ending: Ending) => Map<string, SeenBook>,
  bytes: Uint8Array,
  ending: Ending,
): SeenBook => recalculated(new Map([["it", bytes]]), ending).get("it")!;

/** The suites that work the cells of a file out anew. */
export const suites = [
  { suite: "LibreOffice", present: has.libreoffice && has.openpyxl, recalculated: recalculatedByLibreOffice },
  { suite: "Gnumeric", present: has.gnumeric && has.openpyxl, recalculated: recalculatedByGnumeric },
] as const;

/**
 * Complaints of the schema validator about the parts of some .ods packages, by the name of each; a package that is
 * valid has none. The validator is started once for all of them: reading the schema takes it longer than the files.
 */
export function schemaComplaints(packages: ReadonlyMap<string, Uint8Array>): Map<string, string[]> {
  const folder = scratch();
  const complaints = new Map<string, string[]>([...packages.keys()].map((name) => [name, []]));
  const owners = new Map<string, { name: string; path: string }>();
  const contents: string[] = [];
  const manifests: string[] = [];
  for (const [name, bytes] of packages) {
    for (const [path, part] of Object.entries(unzipSync(bytes))) {
      if (!path.endsWith(".xml")) continue;
      const file = join(folder, `${owners.size}.xml`);
      owners.set(file, { name, path });
      let xml = strFromU8(part);
      if (path === "META-INF/manifest.xml") {
        // The schema is that of 1.2, which differs from 1.3 in this word for packages like ours; see schema/README.md.
        if (!/<manifest:manifest [^>]*manifest:version="1\.3"/.test(xml))
          complaints.get(name)!.push(`${path}: the manifest does not say that it is of version 1.3`);
        xml = xml.replace('manifest:version="1.3"', 'manifest:version="1.2"');
        manifests.push(file);
      } else contents.push(file);
      writeFileSync(file, xml);
    }
  }
  for (const [schema, files] of [
    ["OpenDocument-schema-v1.3.rnc", contents],
    ["od-manifest-schema-v1.2-os.rnc", manifests],
  ] as const) {
    const run = spawnSync("jing", ["-i", "-c", join(SCHEMAS, schema), ...files], { encoding: "utf8" });
    const said = run.stdout + run.stderr;
    let placed = 0;
    for (const line of said.split("\n")) {
      const [, file, what] = /^(.*?\.xml):(\d+:\d+: .*)$/.exec(line) ?? [];
      const owner = owners.get(file ?? "");
      if (owner === undefined) continue;
      complaints.get(owner.name)!.push(`${owner.path}:${what}`);
      placed++;
    }
    if (run.status !== 0 && placed === 0) throw new Error(`jing could not check by ${schema}: ${said}`);
  }
  return complaints;
}

/** A part of a zip package as text. */
export const partOf = (bytes: Uint8Array, path: string): string => {
  const part = unzipSync(bytes)[path];
  if (part === undefined) throw new Error(`no part ${path}`);
  return strFromU8(part);
};
