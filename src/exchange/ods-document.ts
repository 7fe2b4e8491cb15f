export const DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n';

/** The root element that every part of an OpenDocument package but its manifest has, with all its namespaces. */
export function document(kind: "content" | "styles" | "meta" | "settings", inner: string): string {
  const spaces = [
    ["office", "office"],
    ["style", "style"],
    ["text", "text"],
    ["table", "table"],
    ["draw", "drawing"],
    ["fo", "xsl-fo-compatible"],
    ["svg", "svg-compatible"],
    ["number", "datastyle"],
    ["chart", "chart"],
    ["meta", "meta"],
    ["config", "config"],
  ]
    .map(([prefix, name]) => ` xmlns:${prefix}="urn:oasis:names:tc:opendocument:xmlns:${name}:1.0"`)
    .join("");
  return (
    `${DECLARATION}<office:document-${kind}${spaces} xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"` +
    ' xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:dc="http://purl.org/dc/elements/1.1/"' +
    ` xmlns:ooo="http://openoffice.org/2004/office" office:version="1.3">${inner}</office:document-${kind}>`
  );
}
