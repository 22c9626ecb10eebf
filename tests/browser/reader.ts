// A person who hears the page: knows it by the browser's accessibility tree alone (roles, names, states, descriptions, and what a
// live region says), and acts on what was heard there by key.
import { type CDPSession, type Page, expect } from "@playwright/test";

/** Something in the tree as it is heard. */
export interface Heard {
  role: string;
  name: string;
  description: string;
  value: string;
  state: Record<string, unknown>;
  /** What it stands in, the innermost first. */
  within: Heard[];
  /** By which the browser knows it, and nobody else. */
  handle: number;
}

type Named = string | RegExp;
const fits = (name: string, wanted: Named) => (typeof wanted === "string" ? name === wanted : wanted.test(name));
const plain = (text: string) => text.replace(/\s+/g, " ").trim();

/** What a live region says, and the very texts that it says it with: the same words said anew are other texts. */
interface Region {
  politeness: unknown;
  says: string;
  texts: string;
}

export class Reader {
  /** What was announced, in its order. */
  readonly announced: string[] = [];
  private regions = new Map<number, Region>();

  private constructor(private page: Page, private session: CDPSession) {}

  static async of(page: Page) {
    const session = await page.context().newCDPSession(page);
    await session.send("Accessibility.enable");
    return new Reader(page, session);
  }

  /** The whole page, in the order in which it is read. */
  async read(): Promise<Heard[]> {
    const { nodes } = await this.session.send("Accessibility.getFullAXTree");
    const known = new Map(nodes.map((node) => [node.nodeId, node]));
    const all: Heard[] = [];
    const walk = (id: string, within: Heard[]) => {
      const node = known.get(id);
      if (!node) return;
      let inside = within;
      if (!node.ignored && node.role?.value !== "InlineTextBox") {
        const state = Object.fromEntries((node.properties ?? []).map(({ name, value }) => [name, value.value]));
        const text = (part?: { value?: unknown }) => plain(String(part?.value ?? ""));
        const heard = { role: text(node.role), name: text(node.name), description: text(node.description), value: text(node.value), state, within, handle: node.backendDOMNodeId ?? 0 };
        all.push(heard);
        inside = [heard, ...within];
      }
      for (const child of node.childIds ?? []) walk(child, inside);
    };
    walk(nodes[0].nodeId, []);
    this.listen(all);
    return all;
  }

  /** Hears what the live regions say that they did not say before. */
  private listen(all: Heard[]) {
    const now = new Map<number, Region>();
    for (const region of all.filter(({ state, within }) => state.live && state.live !== "off" && !within.some(({ state }) => state.live && state.live !== "off" && state.atomic))) {
      const texts = all.filter(({ role, within }) => role === "StaticText" && within.some(({ handle }) => handle === region.handle));
      const said = { politeness: region.state.live, says: texts.map(({ name }) => name).join(" "), texts: texts.map(({ name, handle }) => `${handle} ${name}`).join("\n") };
      // A region that comes with its text is heard for certain only where it interrupts.
      const before = this.regions.get(region.handle) ?? (said.politeness === "assertive" ? { texts: "" } : said);
      if (before.texts !== said.texts && said.says) this.announced.push(said.says);
      now.set(region.handle, said);
    }
    this.regions = now;
  }

  /** The regions that announce, as they were heard last. */
  get live() {
    return [...this.regions.values()];
  }

  /** Everything of a role, by its name and by the name of what it stands in. */
  async all(role: string, name: Named = /./, within?: Named) {
    const heard = await this.read();
    return heard.filter((one) => one.role === role && fits(one.name, name) && (!within || one.within.some((around) => fits(around.name, within))));
  }

  /** The one of a role with this name, as soon as it is there. */
  async find(role: string, name: Named, within?: Named): Promise<Heard> {
    let found: Heard[] = [];
    await expect
      .poll(async () => (found = await this.all(role, name, within)).length, { message: `one ${role} “${name}”`, intervals: [20, 50, 100], timeout: 5_000 })
      .toBe(1);
    return found[0];
  }

  /** Where one is. */
  async focused(): Promise<Heard> {
    const there = (await this.read()).filter(({ role, state }) => state.focused && role !== "RootWebArea");
    expect(there.map(({ role, name }) => `${role} “${name}”`), "the focus is on one thing").toHaveLength(1);
    return there[0];
  }

  /** Goes to something that was heard. */
  async go({ handle }: Heard) {
    await this.session.send("DOM.focus", { backendNodeId: handle });
  }

  /** Goes to something and presses it. */
  async press(role: string, name: Named, within?: Named) {
    const found = await this.find(role, name, within);
    expect(found.state.disabled ?? false, `${role} “${name}” can be pressed`).toBe(false);
    await this.go(found);
    await this.page.keyboard.press(role === "checkbox" || role === "radio" ? "Space" : "Enter");
  }

  /** Chooses in a list what has this name. */
  async choose(list: Named, wanted: string, within?: Named) {
    const combobox = await this.find("combobox", list, within);
    await this.go(combobox);
    const options = (await this.read()).filter(({ role, within }) => role === "option" && within.some(({ handle }) => handle === combobox.handle)).map(({ name }) => name);
    expect(options, `what “${list}” offers`).toContain(wanted);
    const way = options.indexOf(wanted) - options.indexOf(combobox.value);
    for (let presses = 0; presses < Math.abs(way); presses++) await this.page.keyboard.press(way > 0 ? "ArrowDown" : "ArrowUp");
    expect((await this.find("combobox", list, within)).value).toBe(wanted);
  }

  /** Writes into a field in place of what stands there. */
  async write(field: Named, text: string) {
    await this.go(await this.find("textbox", field));
    await this.page.keyboard.press("ControlOrMeta+a");
    await this.page.keyboard.type(text);
  }
}
