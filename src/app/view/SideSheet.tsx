import { type ReactNode, useState } from "react";

interface SideSheetProps {
  readonly label: string;
  readonly title: ReactNode;
  readonly className?: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  readonly doors?: ReactNode;
}

/** What stands at the right of the page; a sheet that folds to one line on narrower screens. */
export function SideSheet({ label, title, className = "", onClose, children, doors }: SideSheetProps) {
  const [folded, setFolded] = useState(false);
  return (
    <aside className={`side ${className}${folded ? " folded" : ""}`} id="side" aria-label={label}>
      <header>
        <h2>{title}</h2>
        <span className="doors">
          {doors}
          <button
            type="button"
            className="act fold"
            aria-expanded={!folded}
            onClick={() => setFolded(!folded)}
          >
            {folded ? "Unfold" : "Fold"}
          </button>
          <button type="button" className="act" onClick={onClose}>
            Close
          </button>
        </span>
      </header>
      {children}
    </aside>
  );
}
