/** What an accepted edit changes is shown with its design: one frame then shows both, and none takes time from the design. */

import type { ReactiveController, ReactiveControllerHost } from "lit";

/** How long a design is waited for: shorter than a person notices. */
const WAITED_MS = 100;

export class WithAnswer implements ReactiveController {
  private waiting = 0;

  constructor(
    host: ReactiveControllerHost,
    private readonly show: () => void,
  ) {
    host.addController(this);
  }

  /** Show with the next answer, or once that has been waited for long enough. */
  soon(): void {
    this.waiting ||= window.setTimeout(() => this.now(), WAITED_MS);
  }

  now(): void {
    this.hostDisconnected();
    this.show();
  }

  hostDisconnected(): void {
    clearTimeout(this.waiting);
    this.waiting = 0;
  }
}
