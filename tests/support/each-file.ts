/** Runs anew before each file of tests, also where files share what was imported. */
import { afterAll } from "vitest";
import { endAll } from "./afterwards.ts";

afterAll(endAll);
