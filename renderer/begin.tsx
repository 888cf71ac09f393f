/** The window, once its language is known: the way to the program, then the page. */
import { createRoot } from "react-dom/client";
import { App } from "./app.tsx";
import { connect } from "./client/connect.ts";
import { ClientContext } from "./client/context.ts";
import { recall } from "./client/kept.ts";
import { applyTheme, settings } from "./client/settings.ts";
import { startRouter } from "./frame/router.ts";
import "./styles/index.css";

const client = connect();

const holder = document.getElementById("window");
if (!holder) throw new Error("The page has no place for the window.");

// What this machine keeps is known before anything is shown, so that nothing changes under the eye.
void recall(client).then(() => {
  settings.begin();
  applyTheme(settings.get().theme, client.capabilities);
  const { first } = settings.get();
  // An address that asks something already is answered.
  if (/^#?\/?$/.test(location.hash)) history.replaceState(null, "", first === "ask" ? "#/" : `#/${first}`);
  startRouter();
  createRoot(holder).render(
    <ClientContext value={client}>
      <App />
    </ClientContext>,
  );
});
