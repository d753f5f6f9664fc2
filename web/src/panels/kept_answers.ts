/** Answers of the program that this window has had: without it they are read again, and what never came says so. */

import { Refusal } from "../api/client.ts";
import { say } from "../texts/say.ts";

/** So many are kept; the oldest goes first. */
const MOST = 60;
const kept = new Map<string, unknown>();

/** The answer to a question, by its name; while the program cannot be reached, the one from before. */
export async function answered<Answer>(
  name: string,
  isReached: boolean,
  ask: () => Promise<Answer>,
): Promise<Answer> {
  if (!isReached) return fromBefore(name);
  try {
    const answer = await ask();
    kept.delete(name);
    kept.set(name, answer);
    const [oldest] = kept.keys();
    if (kept.size > MOST && oldest !== undefined) kept.delete(oldest);
    return answer;
  } catch (error) {
    if (error instanceof Refusal && error.isLost) return fromBefore(name);
    throw error;
  }
}

function fromBefore<Answer>(name: string): Answer {
  if (!kept.has(name)) throw new Error(say("needs_program"));
  return kept.get(name) as Answer;
}
