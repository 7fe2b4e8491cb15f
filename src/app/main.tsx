import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./App";
import "./style/index.css";
import { recallSettings } from "./view/ViewSettings";

recallSettings();
const root = document.getElementById("root");
if (root === null) throw new Error("The page has no place for the book.");
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
