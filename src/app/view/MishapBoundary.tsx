import { Component, type ReactNode } from "react";
import { downloadCopy } from "../state/files";

interface MishapProps {
  readonly text: () => string;
  readonly file: () => string;
  readonly onAgain: (text: string, file: string) => void;
  readonly children: ReactNode;
}

/** When the page itself breaks, the text of the book is still there: it can be taken away or opened again. */
export class MishapBoundary extends Component<MishapProps, { readonly broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError(): { broken: boolean } {
    return { broken: true };
  }

  override render(): ReactNode {
    if (!this.state.broken) return this.props.children;
    const { text, file, onAgain } = this.props;
    return (
      <main className="start">
        <header>
          <h1>The page broke</h1>
        </header>
        <p className="prose">
          That is a mistake in Invacuo, not in your book. The text of the book is whole, and nothing that said
          “saved” is lost.
        </p>
        <p className="fixes">
          <button type="button" className="act main" onClick={() => onAgain(text(), file())}>
            Open the book again
          </button>{" "}
          <button
            type="button"
            className="act framed"
            onClick={() => downloadCopy(file() || "book.vacuo", text(), "text/plain;charset=utf-8")}
          >
            Download a copy
          </button>
        </p>
        <label className="mishap">
          The text
          <textarea readOnly value={text()} rows={20} spellCheck={false} />
        </label>
      </main>
    );
  }
}
