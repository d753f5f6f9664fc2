/** Words to the person that go by themselves after a while. */

import type { ReactiveController, ReactiveControllerHost } from "lit";
import { inPage } from "../texts/program.ts";
import { type Key, say } from "../texts/say.ts";

const TOLD_MS = 8000;

/** A sentence, or the key of one with its values. */
export interface Told {
  key?: Key;
  values?: Record<string, string>;
  sentence?: string;
}

export class Telling implements ReactiveController {
  /** What is told now; empty when nothing is. */
  words = "";
  private timer = 0;

  constructor(private readonly host: ReactiveControllerHost) {
    host.addController(this);
  }

  hostDisconnected(): void {
    clearTimeout(this.timer);
  }

  tell(said: Told): void {
    const values = Object.entries(said.values ?? {}).map(([name, value]) => [name, inPage(value)]);
    this.put(said.key ? say(said.key, Object.fromEntries(values)) : (said.sentence ?? ""));
    this.timer = window.setTimeout(() => this.put(""), TOLD_MS);
  }

  /** Tell nothing more. */
  hush(): void {
    if (this.words) this.put("");
  }

  private put(words: string): void {
    clearTimeout(this.timer);
    this.words = words;
    this.host.requestUpdate();
  }
}
