// A dialog that keeps the focus inside, closes by Esc, and gives the focus back. The browser's own <dialog> does the work.
import { html, useLayoutEffect, useRef, useState } from "../html.js";
import { useKeys } from "../keys.js";
import { Icon } from "./shapes.js";

let titles = 0;

export function Dialog({ title, onClose, children, keys = [], wide = false }) {
  const dialog = useRef(null);
  const [id] = useState(() => `dialog-${++titles}`);
  useKeys(title, keys, { modal: true });
  useLayoutEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    element.showModal();
    (element.querySelector("[autofocus]") ?? element.querySelector("h2")).focus();
    return () => {
      element.close();
      if (before?.isConnected) before.focus();
    };
  }, []);
  const cancelled = (event) => {
    event.preventDefault();
    onClose();
  };
  return html`
    <dialog ref=${dialog} class=${wide ? "wide" : ""} aria-labelledby=${id} onCancel=${cancelled}>
      <div class="sheet">
        <div class="row spread">
          <h2 id=${id} tabindex="-1">${title}</h2>
          <button type="button" class="bare" onClick=${onClose} aria-label="Close"><${Icon} name="cross" /></button>
        </div>
        ${children}
      </div>
    </dialog>`;
}
