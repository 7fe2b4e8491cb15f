import { useEffect, useState } from "react";
import type { EncodedLink } from "../../exchange/link";
import { noteBase } from "../state/bases";
import { downloadCopy, fileNameFor } from "../state/files";
import { wordsOf } from "./words";
import { useNotebook } from "./workbench";

/** The book as a link: its size first; where some programs would cut it, a file is offered before it. */
export function LinkCommand() {
  const store = useNotebook();
  const { text, title } = store.get().book;
  const [link, setLink] = useState<EncodedLink | { readonly refused: string }>();
  useEffect(() => {
    let wanted = true;
    const make = async () => {
      const { encodeLink } = await import("../../exchange/link");
      return encodeLink(text);
    };
    make().then(
      (made) => wanted && setLink(made),
      (error: unknown) => wanted && setLink({ refused: wordsOf(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [text]);
  // A page that was opened from disk has an address that means nothing to anybody else.
  if (!location.protocol.startsWith("http")) return null;
  if (link === undefined) return <p className="drawer-words">Measuring the link</p>;
  if ("refused" in link) return <p className="drawer-words">{link.refused}</p>;
  const address = `${location.origin}${location.pathname}#${link.fragment}`;
  const say = (words: string) => store.send({ type: "say", text: words });
  const size = `${address.length.toLocaleString("en-GB")} characters`;
  const copy = () => {
    navigator.clipboard.writeText(address).then(
      () => {
        noteBase(store.get(), "sent");
        say(`Copied the link, ${size}. Whoever opens it gets a copy of the book.`);
      },
      (error: unknown) => say(`The link could not be copied: ${wordsOf(error)}`),
    );
  };
  return (
    <>
      {link.advice === undefined ? null : (
        <>
          <p className="drawer-words">A link to this book is long, and some programs cut it.</p>
          <button
            type="button"
            className="act"
            onClick={() => {
              const name = fileNameFor(title);
              downloadCopy(name, text, "text/plain;charset=utf-8");
              noteBase(store.get(), "sent");
              say(`Downloaded a copy, ${name}.`);
            }}
          >
            Send a file instead <small>.vacuo</small>
          </button>
        </>
      )}
      <button type="button" className="act" onClick={copy}>
        {link.advice === undefined ? "Copy a link" : "Copy the long link"} <small>{size}</small>
      </button>
    </>
  );
}
