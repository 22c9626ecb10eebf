// What was measured goes to a file, a line of JSON each: `cargo xtask bench` makes the medians and knows the goals.
import { appendFileSync } from "node:fs";

/** How often each thing is measured. */
export const ROUNDS = 5;

/** Notes what each round came to and, where that is compared, what was measured beside it. */
export function note(name: string, samples: number[], beside: number[] = []) {
  const line = JSON.stringify({ name, samples, beside });
  if (process.env.NOTED) appendFileSync(process.env.NOTED, `${line}\n`);
  console.log(line);
}

/** The sample that stands so far from the least to the most. */
export const at = (share: number, samples: number[]) =>
  samples.toSorted((a, b) => a - b)[Math.min(samples.length - 1, Math.floor(samples.length * share))];
