/** Events that a part of the page hears from elsewhere, for as long as it stands there. */

import type { ReactiveController, ReactiveControllerHost } from "lit";

export class Listening implements ReactiveController {
  constructor(
    host: ReactiveControllerHost,
    private readonly from: EventTarget,
    private readonly heard: Readonly<Record<string, (event: never) => void>>,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    for (const [name, hear] of Object.entries(this.heard))
      this.from.addEventListener(name, hear as EventListener);
  }

  hostDisconnected(): void {
    for (const [name, hear] of Object.entries(this.heard))
      this.from.removeEventListener(name, hear as EventListener);
  }
}
