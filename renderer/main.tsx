/** Where the window begins: the way to the program, then the page. */
import { createRoot } from "react-dom/client";
import { App } from "./app.tsx";
import { connect } from "./client/connect.ts";
import { ClientContext } from "./client/context.ts";
import { applyTheme, settings } from "./client/settings.ts";
import { startRouter } from "./frame/router.ts";
import "./styles/index.css";

const client = connect();
applyTheme(settings.get().theme, client.capabilities);
startRouter();

const holder = document.getElementById("window");
if (!holder) throw new Error("The page has no place for the window.");
createRoot(holder).render(
  <ClientContext value={client}>
    <App />
  </ClientContext>,
);
