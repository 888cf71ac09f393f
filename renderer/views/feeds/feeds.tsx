import { Page } from "../../frame/page.tsx";
import type { ViewProps } from "../view.ts";

export function Feeds({ values }: ViewProps) {
  return <Page answer={values.of ?? ""} />;
}
