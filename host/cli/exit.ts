/** How a command ends. Scripts and scheduled jobs rely on these numbers. */
export const FINE = 0;
/** Findings that fail the report, or the program said no. */
export const REFUSED = 1;
/** The words after `strandbook` can't be read. */
export const USAGE = 2;
/** A defect of the program. */
export const DEFECT = 3;

/** Thrown when the words can't be read; the message says which and why. */
export class UsageError extends Error {}
