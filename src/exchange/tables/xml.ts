import { damaged, LIMITS, refused } from "./limits";

/**
 * A reader for the XML of spreadsheet packages, as a stream of events. It takes the five plain entities and
 * numeric references and nothing else: a document type declaration, the door of every entity trick, is refused
 * before a single element is read. Names come without their prefix.
 */
export interface XmlEvents {
  open?(name: string, attributes: ReadonlyMap<string, string>): void;
  text?(text: string): void;
  close?(name: string): void;
}

export function readXml(source: string, part: string, events: XmlEvents): void {
  if (/<!(DOCTYPE|ENTITY|ELEMENT|ATTLIST|NOTATION)/i.test(source))
    throw refused("a document type declaration");
  const broken = (how: string): Error => damaged(`${part} ${how}`);
  const open: string[] = [];
  let at = source.charCodeAt(0) === 0xfeff ? 1 : 0;
  let roots = 0;
  while (at < source.length) {
    const next = source.indexOf("<", at);
    const end = next < 0 ? source.length : next;
    if (end > at) {
      const piece = source.slice(at, end);
      if (open.length > 0) events.text?.(unescapeXml(piece, broken));
      else if (piece.trim() !== "") throw broken("has text outside its first element");
    }
    if (next < 0) break;
    if (source.startsWith("<!--", next)) at = behind(source, "-->", next + 4, broken);
    else if (source.startsWith("<![CDATA[", next)) {
      const stop = behind(source, "]]>", next + 9, broken);
      if (open.length === 0) throw broken("has text outside its first element");
      events.text?.(source.slice(next + 9, stop - 3));
      at = stop;
    } else if (source.startsWith("<?", next)) at = behind(source, "?>", next + 2, broken);
    else if (source[next + 1] === "/") {
      const stop = behind(source, ">", next + 2, broken);
      const name = source.slice(next + 2, stop - 1).trim();
      if (open.pop() !== name) throw broken(`closes ${name} where it is not open`);
      events.close?.(local(name));
      at = stop;
    } else {
      if (open.length === 0 && roots++ > 0) throw broken("has two first elements");
      const tag = readTag(source, next, broken);
      if (!tag.empty) {
        open.push(tag.name);
        if (open.length > LIMITS.xmlDepth) throw refused("elements nested too deep");
      }
      events.open?.(local(tag.name), tag.attributes);
      if (tag.empty) events.close?.(local(tag.name));
      at = tag.end;
    }
  }
  if (open.length > 0 || roots === 0) throw broken("ends too early");
}

type Broken = (how: string) => Error;

const local = (name: string): string => name.slice(name.indexOf(":") + 1);

function behind(source: string, mark: string, from: number, broken: Broken): number {
  const at = source.indexOf(mark, from);
  if (at < 0) throw broken("ends too early");
  return at + mark.length;
}

const NAME = /[^\s/>=<"'&]+/y;
const ATTRIBUTE = /\s+([^\s/>=<"'&]+)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y;
const TAG_END = /\s*(\/?)>/y;

function readTag(source: string, at: number, broken: Broken) {
  NAME.lastIndex = at + 1;
  const name = NAME.exec(source)?.[0];
  if (name === undefined) throw broken("has a tag without a name");
  let position = NAME.lastIndex;
  const attributes = new Map<string, string>();
  for (;;) {
    TAG_END.lastIndex = position;
    const end = TAG_END.exec(source);
    if (end !== null) return { name, attributes, empty: end[1] === "/", end: TAG_END.lastIndex };
    ATTRIBUTE.lastIndex = position;
    const found = ATTRIBUTE.exec(source);
    if (found === null) throw broken(`has a broken tag ${name}`);
    attributes.set(local(found[1]!), unescapeXml(found[2] ?? found[3] ?? "", broken));
    position = ATTRIBUTE.lastIndex;
  }
}

const ENTITIES = new Map([
  ["amp", "&"],
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
]);

function unescapeXml(text: string, broken: Broken): string {
  if (!text.includes("&")) return text;
  return text.replace(/&([^;&\s]{0,12});?/g, (whole, name: string) => {
    const plain = ENTITIES.get(name);
    if (plain !== undefined && whole.endsWith(";")) return plain;
    const code = /^#x([0-9a-f]{1,6})$/i.exec(name) ?? /^#(\d{1,7})$/.exec(name);
    const point =
      code === null ? Number.NaN : Number.parseInt(code[1]!, name[1] === "x" || name[1] === "X" ? 16 : 10);
    if (!whole.endsWith(";") || !(point >= 0 && point <= 0x10ffff))
      throw broken(`has an unknown entity ${whole}`);
    return String.fromCodePoint(point);
  });
}
