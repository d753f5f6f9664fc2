/** What will probably be asked next: it is designed ahead, so that it can be shown as soon as it is asked. */

import { api, type Edit } from "../api/client.ts";

/** How long nothing newer has to be expected before it is designed: between two strokes of a hand that types. */
const QUIET_MS = 60;

export class Expecting {
  private waiting: ReturnType<typeof setTimeout> | undefined;
  /** What was sent last, with the revision that it is made on. */
  private last = "";

  /** `base` gives the revision on which an edit is made; null while none can be sent. */
  constructor(
    private readonly job: string,
    private readonly base: () => number | null,
  ) {}

  /** The newest alone is designed, once nothing newer has come for a moment. */
  expect(edit: Edit): void {
    this.drop();
    this.waiting = setTimeout(() => void this.send(edit), QUIET_MS);
  }

  /** Send nothing more: what was expected has been asked, or something else has. */
  drop(): void {
    clearTimeout(this.waiting);
  }

  private async send(edit: Edit): Promise<void> {
    const base = this.base();
    const asked = JSON.stringify([base, edit]);
    if (base === null || asked === this.last) return;
    this.last = asked;
    await api.expected(this.job, base, edit).catch(() => undefined); // whoever asks for it is told why not
  }
}
