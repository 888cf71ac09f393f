/** What the browser's program measures of the plan, in milliseconds. */
export interface PlanFelt {
  /** From the question to the frame that shows the plan. */
  readonly drawn: readonly number[];
  /** From frame to frame while it is zoomed and moved in each of them. */
  readonly frames: readonly number[];
}
