import { useState } from "react";

const themes = [
  ["", "As the system"],
  ["light", "Light"],
  ["dark", "Dark"],
] as const;

/** Light, dark, or as the system; close rows or roomy ones. Kept for this browser. */
export function ThemeButtons() {
  const [theme, setTheme] = useState(() => document.documentElement.dataset.theme ?? "");
  const [close, setClose] = useState(() => document.documentElement.dataset.density === "close");
  return (
    <>
      {themes.map(([value, word]) => (
        <button
          key={value}
          type="button"
          className="act"
          aria-pressed={theme === value}
          onClick={() => {
            setTheme(value);
            keepSetting("theme", value);
          }}
        >
          {word}
        </button>
      ))}
      <hr />
      <button
        type="button"
        className="act"
        aria-pressed={close}
        onClick={() => {
          setClose(!close);
          keepSetting("density", close ? "" : "close");
        }}
      >
        Rows close together
      </button>
    </>
  );
}

/** Applies a setting of the view and keeps it, where the browser lets the page keep anything. */
export function keepSetting(name: "theme" | "density" | "tour", value: string): void {
  if (value === "") delete document.documentElement.dataset[name];
  else document.documentElement.dataset[name] = value;
  try {
    if (value === "") localStorage.removeItem(`invacuo.${name}`);
    else localStorage.setItem(`invacuo.${name}`, value);
  } catch (error) {
    // A browser that keeps nothing still shows the setting until the page is closed.
    if (!(error instanceof DOMException)) throw error;
  }
}

/** Applies the settings that were kept. */
export function recallSettings(): void {
  for (const name of ["theme", "density", "tour"] as const) {
    try {
      const value = localStorage.getItem(`invacuo.${name}`);
      if (value !== null) document.documentElement.dataset[name] = value;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
    }
  }
}
