/** What can wait begins once the hand rests. */

import { afterEach, beforeEach, expect, test, vi } from "vitest";

let heard: Record<string, () => void>;

beforeEach(() => {
  heard = {};
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "performance"] });
  vi.stubGlobal("window", {
    addEventListener: (name: string, call: () => void) => {
      heard[name] = call;
    },
  });
  vi.resetModules();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test("it waits so long, and longer while a pointer moves or a key is pressed", async () => {
  const { handRests } = await import("../src/state/hand_rests.ts");
  let rests = false;
  void handRests(400).then(() => {
    rests = true;
  });
  await vi.advanceTimersByTimeAsync(300);
  heard.pointermove?.();
  await vi.advanceTimersByTimeAsync(399);
  expect(rests).toBe(false);
  await vi.advanceTimersByTimeAsync(2);
  expect(rests).toBe(true);
});

test("a hand that rests already is waited for no longer than asked", async () => {
  const { handRests } = await import("../src/state/hand_rests.ts");
  let rests = false;
  void handRests(400).then(() => {
    rests = true;
  });
  await vi.advanceTimersByTimeAsync(401);
  expect(rests).toBe(true);
});
