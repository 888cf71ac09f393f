/** The whole window: head, the question asked with its answer, foot. */
import { useEffect } from "react";
import { say } from "../core/words/say.ts";
import { noteAsked } from "./client/asked.ts";
import { CurrentView } from "./frame/current-view.ts";
import { useFocusKept } from "./frame/focus-kept.ts";
import { Foot } from "./frame/foot.tsx";
import { Head } from "./frame/head.tsx";
import { Help } from "./frame/help.tsx";
import { NameDialog } from "./frame/name-dialog.tsx";
import { Notices } from "./frame/notices.tsx";
import { useRoute } from "./frame/router.ts";
import { useShortcuts } from "./frame/shortcuts.ts";
import { Tour } from "./frame/tour.tsx";
import { UndoDialog } from "./frame/undo-dialog.tsx";
import { useDroppedPlant } from "./frame/use-dropped-plant.ts";
import { useTypedKept } from "./frame/use-typed-kept.ts";
import { FIRST_VIEW, tabShown, VIEWS, viewOf } from "./views/registry.ts";
import { sentenceOf } from "./views/view.ts";

export function App() {
  const route = useRoute();
  const found = viewOf(route.path);
  const view = found ?? viewOf(FIRST_VIEW);
  useShortcuts();
  useFocusKept(view?.path ?? "");
  useDroppedPlant();
  useTypedKept();
  const sentence = view ? sentenceOf(view, route.values) : "";
  useEffect(() => {
    document.title = sentence ? say`${sentence} - Strandbook` : "Strandbook";
    if (view && !view.unlisted) noteAsked(view, route);
  }, [view, route, sentence]);
  if (!view) return null;
  const Shown = view.component;
  return (
    <>
      <Head tab={tabShown(view, route.values)} />
      <CurrentView value={{ view, values: route.values, views: VIEWS }}>
        <main className="main" key={view.path}>
          <Shown values={route.values} />
        </main>
      </CurrentView>
      <Help view={view} values={route.values} />
      <Notices />
      <Tour />
      <Foot />
      <NameDialog />
      <UndoDialog />
    </>
  );
}
