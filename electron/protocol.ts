/** Answers `strandbook://window/…` from the fixed list of built files; no path is ever joined to a folder. */
import { GUARD_HEADERS, type Pages } from "../host/window/pages.ts";
import { isOurPage } from "./security.ts";

export function pageResponder(pages: Pages): (request: Request) => Response {
  return (request) => {
    const url = URL.parse(request.url);
    const page = url && isOurPage(request.url) ? pages.get(url.pathname) : undefined;
    if (!page) return new Response("There is nothing here.", { status: 404, headers: GUARD_HEADERS });
    if (request.method !== "GET") {
      return new Response("Only GET is answered here.", { status: 405, headers: { ...GUARD_HEADERS, allow: "GET" } });
    }
    return new Response(page.body, { headers: { ...GUARD_HEADERS, "content-type": page.type } });
  };
}
