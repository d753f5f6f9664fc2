/** A button that a hand is over, or that has the focus, will probably be pressed. */

import { noChange } from "lit";
import { Directive, directive, type ElementPart } from "lit/directive.js";

type Act = (event: Event) => void;

class WhenNear extends Directive {
  private act: Act | null = null;

  render(_: Act): unknown {
    return noChange;
  }

  override update({ element }: ElementPart, [act]: [Act]): unknown {
    if (!this.act) for (const name of ["pointerenter", "focus"]) element.addEventListener(name, this.heard);
    this.act = act;
    return noChange;
  }

  private heard = (event: Event): void => this.act?.(event);
}

/** Act whenever a hand or the focus comes to the element that it stands in. */
export const whenNear = directive(WhenNear);
