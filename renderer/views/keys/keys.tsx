import { Page } from "../../frame/page.tsx";
import type { ViewProps } from "../view.ts";

export function Keys({ values }: ViewProps) {
  return <Page answer={values.of ?? ""} />;
}
