/** Without the program an answer from before is read again; what never came says that it needs the program. */

import { expect, test } from "vitest";
import { Refusal } from "../src/api/client.ts";
import { answered } from "../src/panels/kept_answers.ts";

const lost = new Refusal({
  sentence: "",
  file: "",
  item: "",
  field: [],
  code: "lost",
  head: null,
  kept: null,
});
const never = () => Promise.reject(new Error("it was asked"));

test("an answer is kept for the time without the program, and a newer one replaces it", async () => {
  expect(await answered("price 1", true, async () => "old")).toBe("old");
  expect(await answered("price 1", true, async () => "new")).toBe("new");
  expect(await answered("price 1", false, never)).toBe("new");
  expect(await answered("price 1", true, () => Promise.reject(lost))).toBe("new");
});

test("what never came says so in a sentence; a refusal stays a refusal", async () => {
  await expect(answered("why P1", false, never)).rejects.toThrow("needs the program");
  await expect(answered("why P1", true, () => Promise.reject(lost))).rejects.toThrow("needs the program");
  await expect(answered("price 1", true, never)).rejects.toThrow("it was asked");
});

test("so many answers are kept, the newest", async () => {
  for (let step = 0; step < 70; step++) await answered(`many ${step}`, true, async () => step);
  expect(await answered("many 69", false, never)).toBe(69);
  await expect(answered("many 0", false, never)).rejects.toThrow("needs the program");
});
