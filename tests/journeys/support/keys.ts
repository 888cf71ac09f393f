import type { Page } from "playwright";

/** After this long without a key the browser takes the next one as the first of another word. */
const BEGUN_ANEW_MS = 1_500;

/** Keys of somebody who types: each letter is one, each named key is one. */
export class Keys {
  count = 0;
  readonly #page: Page;
  readonly steps: { readonly what: string; readonly keys: number; readonly ms: number }[] = [];

  constructor(page: Page) {
    this.#page = page;
  }

  async type(text: string): Promise<void> {
    this.count += text.length;
    await this.#page.keyboard.type(text);
  }

  async press(...keys: readonly string[]): Promise<void> {
    for (const key of keys) {
      this.count += 1;
      await this.#page.keyboard.press(key);
    }
  }

  /** Waits for the list below the field, takes its first, and waits until it has gone. */
  async take(text: string): Promise<void> {
    await this.type(text);
    const choices = this.#page.locator(".choices .choice");
    await choices
      .first()
      .filter({ hasText: new RegExp(text, "i") })
      .waitFor();
    await this.press("Enter");
    await choices.first().waitFor({ state: "detached" });
  }

  /**
   * Types how an entry of the list that has the focus begins, which chooses it. Where a second passes between two letters
   * the browser begins anew; a person sees that, waits and types it again.
   */
  async pick(text: string): Promise<void> {
    this.count += text.length;
    for (let turn = 0; turn < 5; turn++) {
      if (turn > 0) await this.#page.waitForTimeout(BEGUN_ANEW_MS);
      await this.#page.keyboard.type(text);
      const chosen = await this.#page.evaluate(() => {
        const on = document.activeElement;
        return on instanceof HTMLSelectElement ? (on.selectedOptions[0]?.text ?? "") : "";
      });
      if (chosen.toLowerCase().startsWith(text.toLowerCase())) return;
    }
    throw new Error(`${text} isn't in the list that has the focus`);
  }

  /** Tabs on to a field, each of them counted. */
  async tabTo(selector: string): Promise<void> {
    for (let tabs = 0; tabs < 60; tabs++) {
      if (await this.#page.locator(`${selector}:focus`).count()) return;
      await this.press("Tab");
    }
    throw new Error(`${selector} can't be reached by the Tab key`);
  }

  /** Opens the system's own window for files and types their names there, as the clerk would. */
  async choose(
    files: readonly { readonly name: string; readonly mimeType: string; readonly buffer: Buffer }[],
  ): Promise<void> {
    const opened = this.#page.waitForEvent("filechooser");
    await this.press("Space");
    // `"lid.jpg" "tray.jpg"` and Enter: what that window is told can't be seen from here.
    this.count += files.map(({ name }) => `"${name}"`).join(" ").length + 1;
    await (await opened).setFiles([...files]);
  }

  async step(what: string, work: () => Promise<void>): Promise<void> {
    const [keys, from] = [this.count, performance.now()];
    await work();
    this.steps.push({ what, keys: this.count - keys, ms: Math.round(performance.now() - from) });
  }
}
