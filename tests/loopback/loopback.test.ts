import { connect } from "node:net";
import { describe, expect, it } from "vitest";
import { CALL_LIMIT, TOKEN_HEADER } from "../../core/operations/wire.ts";
import { CONTENT_POLICY } from "../../host/window/pages.ts";
import { startHost } from "./support.ts";

const echo = { id: "1", name: "probe.echo", input: { what: "straße 光" } };

describe("a page asks the loopback host", () => {
  it("is served the built files and nothing else", async () => {
    const host = await startHost();
    const page = await host.raw({ path: "/" });
    expect(page.status).toBe(200);
    expect(page.headers["content-type"]).toBe("text/html; charset=utf-8");
    expect((await host.raw({ path: "/assets/window.js?v=2" })).text).toBe("export {};");
    for (const path of [
      "/index.html",
      "/assets/",
      "/assets/../../package.json",
      "/..%2f..%2fetc/passwd",
      "/assets/%2e%2e/%2e%2e/package.json",
      "//etc/passwd",
      "http://127.0.0.1/",
    ]) {
      expect([path, (await host.raw({ path })).status]).toEqual([path, 404]);
    }
  });
  it("is told a strict content policy with every answer", async () => {
    const host = await startHost();
    for (const answer of [await host.raw({}), await host.call(echo), await host.raw({ path: "/nothing" })]) {
      expect(answer.headers["content-security-policy"]).toBe(CONTENT_POLICY);
      expect(answer.headers["x-content-type-options"]).toBe("nosniff");
      expect(answer.headers["cache-control"]).toBe("no-store");
      expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
    }
    expect(CONTENT_POLICY).toContain("default-src 'none'");
    expect(CONTENT_POLICY).not.toContain("unsafe");
    expect(CONTENT_POLICY).not.toContain("http");
  });
  it("gets the answer of an operation", async () => {
    const host = await startHost();
    const { status, json } = await host.call(echo);
    expect(status).toBe(200);
    expect(json).toEqual({ ok: true, value: { what: "straße 光" }, revision: 0 });
  });
  it("gets a refusal in the same form, with its problems", async () => {
    const host = await startHost();
    const { status, json } = await host.call({ id: "1", name: "probe.refuse" });
    expect(status).toBe(200);
    expect(json.ok).toBe(false);
    expect(json.error.code).toBe("not_found");
    expect(json.error.problems).toEqual([{ row: 2, record: "F-999", field: "cable", reason: "is unknown" }]);
  });
  it("is told of a defect without its inner words", async () => {
    const host = await startHost();
    const answer = await host.call({ id: "1", name: "probe.break" });
    expect(answer.json.error.code).toBe("internal");
    expect(answer.text).not.toContain("secret inner words");
    expect(answer.text).not.toContain(" at ");
    expect(host.defects).toHaveLength(1);
  });
  it("hears of each change that any window makes", async () => {
    const host = await startHost();
    const events = await host.events();
    expect(await events.next("hello")).toEqual({ type: "hello", revision: 0 });
    const note = { id: "7", name: "probe.note", input: { notes: "seen" }, occasion: { author: "Test Person" } };
    const reply = await host.call(note);
    expect(reply.json.ok).toBe(true);
    expect(await events.next("changed")).toEqual({
      type: "changed",
      revision: reply.json.revision,
      summary: "Note something",
      verb: null,
      kinds: ["plant"],
    });
  });
  it("sees the progress of a long call and stops it", async () => {
    const host = await startHost();
    const events = await host.events();
    const counting = host.call({ id: "long", name: "probe.count", input: { to: 1e9 } });
    const progress = await events.next("progress");
    expect(progress).toMatchObject({ id: "long", what: "counting", total: 1e9 });
    const stopped = await host.call({ id: "long" }, { path: "/stop" });
    expect(stopped.json).toEqual({ stopped: true });
    expect((await counting).json.error.code).toBe("stopped");
    expect((await host.call({ id: "long" }, { path: "/stop" })).json).toEqual({ stopped: false });
  });
  it("hears the last word of a short one", async () => {
    const host = await startHost();
    const events = await host.events();
    await host.call({ id: "short", name: "probe.count", input: { to: 40 } });
    await events.next("progress");
    await expect.poll(() => events.heard.findLast((event) => event.type === "progress")).toMatchObject({ done: 40 });
  });
  it("stops what it asked for by going away", async () => {
    const host = await startHost();
    const events = await host.events();
    const gone = new AbortController();
    const call = fetch(`http://127.0.0.1:${host.port}/call`, {
      method: "POST",
      signal: gone.signal,
      headers: {
        origin: `http://127.0.0.1:${host.port}`,
        "content-type": "application/json",
        [TOKEN_HEADER]: host.token,
      },
      body: JSON.stringify({ id: "left", name: "probe.count", input: { to: 1e9 } }),
    });
    await events.next("progress");
    gone.abort();
    await expect(call).rejects.toThrow();
    // Its id is free again as soon as it has ended, and not before.
    await expect
      .poll(async () => (await host.call({ id: "left", name: "probe.echo", input: { what: "x" } })).json.ok)
      .toBe(true);
  });
  it("can't run two calls under one id", async () => {
    const host = await startHost();
    const events = await host.events();
    const first = host.call({ id: "same", name: "probe.count", input: { to: 1e9 } });
    await events.next("progress");
    const second = await host.call({ id: "same", name: "probe.echo", input: { what: "x" } });
    expect(second.json.error.code).toBe("bad_input");
    await host.call({ id: "same" }, { path: "/stop" });
    await first;
  });
  it("is told when the program closes, and running calls are stopped", async () => {
    const host = await startHost();
    const events = await host.events();
    const counting = host.call({ id: "long", name: "probe.count", input: { to: 1e9 } });
    await events.next("progress");
    await host.close();
    expect((await counting).json.error.code).toBe("stopped");
    await events.ended;
    expect(events.heard.at(-1)).toEqual({ type: "closing" });
    await expect(host.raw({})).rejects.toThrow();
  });
});

describe("somebody else asks the loopback host", () => {
  it("is refused by another name for this machine, whatever it asks", async () => {
    const host = await startHost();
    for (const name of [
      `localhost:${host.port}`,
      "127.0.0.1",
      `plant.example:${host.port}`,
      `[::1]:${host.port}`,
      "",
    ]) {
      expect([name, (await host.raw({ headers: { host: name } })).status]).toEqual([name, 421]);
      expect([name, (await host.call(echo, { headers: { host: name } })).status]).toEqual([name, 421]);
    }
  });
  it("is refused from another origin, or when it hides its origin", async () => {
    const host = await startHost();
    const { port } = host;
    for (const origin of [
      undefined,
      "null",
      "https://plant.example",
      `http://localhost:${port}`,
      `https://127.0.0.1:${port}`,
      `http://127.0.0.1:${port}.plant.example`,
      `http://127.0.0.1:${port + 1}`,
    ]) {
      expect([origin, (await host.call(echo, { headers: { origin } })).status]).toEqual([origin, 403]);
    }
    const elsewhere = { [TOKEN_HEADER]: host.token, origin: "https://plant.example" };
    expect((await host.raw({ path: "/events", headers: elsewhere })).status).toBe(403);
    const framed = { [TOKEN_HEADER]: host.token, "sec-fetch-site": "cross-site" };
    expect((await host.raw({ path: "/events", headers: framed })).status).toBe(403);
  });
  it("is refused without this start's token", async () => {
    const host = await startHost();
    const other = await startHost();
    for (const token of [undefined, "", "x", host.token.slice(1), `${host.token}x`, other.token, "é"]) {
      const headers = { [TOKEN_HEADER]: token === "é" ? encodeURI("é") : token };
      expect([token, (await host.call(echo, { headers })).status]).toEqual([token, 401]);
      expect([token, (await host.call({ id: "1" }, { path: "/stop", headers })).status]).toEqual([token, 401]);
      expect([token, (await host.raw({ path: "/events", headers })).status]).toEqual([token, 401]);
    }
    expect((await host.raw({ path: `/events?token=${host.token}` })).status).toBe(401);
    expect(host.token).toMatch(/^[\w-]{32}$/);
    expect(host.address).toBe(`http://127.0.0.1:${host.port}/#token=${host.token}`);
  });
  it("is refused by another method", async () => {
    const host = await startHost();
    for (const method of ["POST", "PUT", "DELETE", "OPTIONS", "HEAD"]) {
      expect([method, (await host.raw({ method, path: "/" })).status]).toEqual([method, 405]);
    }
    for (const method of ["GET", "PUT", "OPTIONS"]) {
      expect([method, (await host.call(echo, { method })).status]).toEqual([method, 405]);
    }
    expect((await host.call(echo, { path: "/events" })).status).toBe(405);
  });
  it("reaches it through this machine's loopback address only", async () => {
    const host = await startHost();
    await expect(fetch(`http://[::1]:${host.port}/`)).rejects.toThrow();
  });
  it("gets a bare no for what isn't HTTP", async () => {
    const host = await startHost();
    const answer = await new Promise<string>((resolve) => {
      const socket = connect(host.port, "127.0.0.1", () => socket.end("\u0001\u0002 nonsense\r\n\r\n"));
      let text = "";
      socket.on("data", (piece) => {
        text += piece;
      });
      socket.on("close", () => resolve(text));
    });
    expect(answer).toMatch(/^HTTP\/1\.1 400 Bad Request\r\n/);
    expect(host.defects).toEqual([]);
  });
});

describe("a call with a bad body", () => {
  it("is refused unless it says that it is JSON", async () => {
    const host = await startHost();
    for (const type of [
      undefined,
      "text/plain",
      "application/x-www-form-urlencoded",
      "application/json; charset=latin1",
    ]) {
      expect([type, (await host.call(echo, { headers: { "content-type": type } })).status]).toEqual([type, 415]);
    }
    expect((await host.call(echo, { headers: { "content-encoding": "gzip" } })).status).toBe(415);
    expect((await host.call(echo, { headers: { "content-type": "application/json; charset=UTF-8" } })).status).toBe(
      200,
    );
  });
  it("is refused in the form of every refusal when it can't be read", async () => {
    const host = await startHost();
    for (const body of ["", "{", "[1,", '{"id":"1"}}', Buffer.from([0x22, 0xff, 0xfe, 0x22])]) {
      const answer = await host.call("", { body });
      expect(answer.status).toBe(400);
      expect(answer.json).toEqual({
        ok: false,
        error: { code: "bad_input", message: "The body of this call is not JSON in UTF-8.", problems: [] },
        revision: 0,
      });
    }
  });
  it("is refused when it isn't a call", async () => {
    const host = await startHost();
    for (const body of ["null", "3", "[]", "{}", '{"id":"","name":"probe.echo"}', '{"id":5,"name":"probe.echo"}']) {
      const { status, json } = await host.call(body);
      expect([body, status, json.ok, json.error.code]).toEqual([body, 200, false, "bad_input"]);
    }
    const more = await host.call({ ...echo, more: 1 });
    expect(more.json.error.code).toBe("bad_input");
    const unknown = await host.call({ id: "1", name: "constructor" });
    expect(unknown.json.error.code).toBe("unknown_operation");
    expect((await host.call({ nothing: 1 }, { path: "/stop" })).status).toBe(400);
  });
  it("is refused by its declared size before it is read", async () => {
    const host = await startHost();
    const answer = await host
      .call("{}", { headers: { "content-length": String(CALL_LIMIT + 1) } })
      .catch((error) => error);
    // The head alone is answered; the connection then ends without the rest.
    expect(answer.status).toBe(413);
  });
  it("is refused by its real size when it hides it", async () => {
    const host = await startHost();
    const answer = await host.call("", {
      body: Buffer.alloc(CALL_LIMIT + 10, 32),
      headers: { "transfer-encoding": "chunked" },
    });
    expect(answer.status).toBe(413);
    expect(answer.json.error.message).toBe("A call may have 32 MB; send less at once.");
  });
  it("may be deeply nested or name the prototype without harm", async () => {
    const host = await startHost();
    const deep = `{"id":"1","name":"probe.echo","input":{"what":${"[".repeat(200_000)}${"]".repeat(200_000)}}}`;
    expect((await host.call(deep)).json.error.code).toBe("bad_input");
    const polluted = '{"id":"1","name":"probe.echo","input":{"__proto__":{"polluted":true},"what":"x"}}';
    await host.call(polluted);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect((await host.call(echo)).status).toBe(200);
  });
});

describe("a window whose connection broke asks again", () => {
  const note = (id: string, notes: string) => ({
    id,
    name: "probe.note",
    input: { notes },
    occasion: { author: "Test Person" },
  });
  it("is answered anew where it reads", async () => {
    const host = await startHost();
    const { json } = await host.call({ ...echo, again: true });
    expect(json).toEqual({ ok: true, value: { what: "straße 光" }, revision: 0 });
  });
  it("is given the answer of what it wrote, which isn't written twice", async () => {
    const host = await startHost();
    const first = await host.call(note("w-1", "once"));
    const second = await host.call({ ...note("w-1", "once"), again: true });
    expect(second.json).toEqual(first.json);
    // A change set of its own would have another number.
    expect((await host.call(echo)).json.revision).toBe(first.json.revision);
  });
  it("is told that nothing was written where the write never came, nor is it should it come late", async () => {
    const host = await startHost();
    const { json } = await host.call({ ...note("w-2", "late"), again: true });
    expect(json.error.message).toBe("The connection to Strandbook broke before this came to it. Nothing was written.");
    const late = await host.call(note("w-2", "late"));
    expect(late.json.ok).toBe(false);
    expect((await host.call(echo)).json.revision).toBe(0);
  });
  it("finds its connection open after a pause: the program doesn't close what a browser may still use", async () => {
    const host = await startHost();
    const { headers } = await host.call(echo, { headers: { connection: "keep-alive" } });
    // Chromium keeps an idle connection for five minutes (from memory of its sources).
    expect(Number(/timeout=(\d+)/.exec(String(headers["keep-alive"]))?.[1])).toBeGreaterThan(300);
  });
});
