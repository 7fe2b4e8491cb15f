/** What xlsx-populate asks of Node's Buffer, on plain bytes. */
export const isBuffer = (value: unknown): value is Uint8Array => value instanceof Uint8Array;

export function from(value: string | ArrayBuffer | Uint8Array, encoding?: string): Uint8Array {
  if (typeof value !== "string") return new Uint8Array(value);
  if (encoding !== "base64") return new TextEncoder().encode(value);
  return Uint8Array.from(atob(value), (character) => character.charCodeAt(0));
}
