/** The state of the file, kept current: asked again after every change, and now and then for what changes by itself. */
import { useEffect } from "react";
import { useAnswer } from "../client/use-answer.ts";

const CHECKING_MS = 1500;
const QUIET_MS = 30_000;

export function useStatus() {
  const { value, again } = useAnswer("plant.status", {});
  const every = value?.integrity === "checking" ? CHECKING_MS : QUIET_MS;
  useEffect(() => {
    const clock = setInterval(again, every);
    return () => clearInterval(clock);
  }, [again, every]);
  return value;
}
