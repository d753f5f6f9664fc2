/** After the language has changed every element reads its texts again; nothing that is open or typed is lost. */

import { LitElement } from "lit";

export function tellAgain(root: ParentNode): void {
  for (const element of root.querySelectorAll("*")) {
    if (element instanceof LitElement) element.requestUpdate();
    if (element.shadowRoot) tellAgain(element.shadowRoot);
  }
}
