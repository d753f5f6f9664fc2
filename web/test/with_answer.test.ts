import type { ReactiveControllerHost } from "lit";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { WithAnswer } from "../src/app/with_answer.ts";

const host = { addController: () => undefined } as unknown as ReactiveControllerHost;

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("window", globalThis);
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test("what an answer brings soon is shown with it, once", () => {
  const show = vi.fn();
  const states = new WithAnswer(host, show);
  states.soon();
  states.soon();
  vi.advanceTimersByTime(60);
  expect(show).not.toHaveBeenCalled();
  states.now();
  vi.advanceTimersByTime(1000);
  expect(show).toHaveBeenCalledTimes(1);
});

test("where the answer is long in coming it is shown without, before a person notices", () => {
  const show = vi.fn();
  const states = new WithAnswer(host, show);
  states.soon();
  vi.advanceTimersByTime(60);
  states.soon();
  vi.advanceTimersByTime(40);
  expect(show).toHaveBeenCalledTimes(1);
});

test("nothing is shown on a page that is gone", () => {
  const show = vi.fn();
  const states = new WithAnswer(host, show);
  states.soon();
  states.hostDisconnected();
  vi.advanceTimersByTime(1000);
  expect(show).not.toHaveBeenCalled();
});
