/** What can be done with a line as it is: a button that could only be refused, or change nothing, is not offered. */

interface Drawn {
  name: string;
  isClosed: boolean;
}

/** Lines that another can be joined with: both must be open. */
export function joinable<Line extends Drawn>(lines: readonly Line[], line: Drawn): Line[] {
  return line.isClosed ? [] : lines.filter((each) => each.name !== line.name && !each.isClosed);
}

/** Whether a line's points stand in a file, so that it can be given its own. */
export function isFromFile(row: Readonly<Record<string, unknown>> | undefined): boolean {
  return Boolean(row?.file);
}
