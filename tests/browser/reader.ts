// A person who hears the page: knows it by the browser's accessibility tree alone (roles, names, states, descriptions, and what a
// live region says), and acts on what was heard there by key.
import { type CDPSession, type Page, expect } from "@playwright/test";
import { type Candidate } from "./candidate";
import { type Named, word } from "./words";

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

const fits = (name: string, wanted: Named) => (typeof wanted === "string" ? name === wanted : wanted.test(name));
const plain = (text: string) => text.replace(/\s+/g, " ").trim();

/** What a live region says, and the very texts that it says it with: the same words said anew are other texts. */
interface Region {
  politeness: unknown;
  says: string;
  texts: string;
}

export class Reader implements Candidate {
  /** What was announced, in its order. */
  readonly announced: string[] = [];
  private regions = new Map<number, Region>();

  protected constructor(private page: Page, private session: CDPSession) {}

  static async of(page: Page) {
    const session = await page.context().newCDPSession(page);
    await session.send("Accessibility.enable");
    return new this(page, session);
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

  async count(...thing: [role: string, name: Named, within?: Named]) {
    return (await this.all(...thing)).length;
  }

  /** The one of a role with this name, or the one in this place of several, as soon as it is there. */
  async find(role: string, name: Named, within?: Named, place?: number): Promise<Heard> {
    let found: Heard[] = [];
    const there = async () => ((found = await this.all(role, name, within)), place === undefined ? found.length === 1 : found.length > place);
    await expect.poll(there, { message: `one ${role} “${name}”`, intervals: [20, 50, 100], timeout: 5_000 }).toBe(true);
    return found[place ?? 0];
  }

  /** Where one is. */
  async focused(): Promise<Heard> {
    const there = (await this.read()).filter(({ role, state }) => state.focused && role !== "RootWebArea");
    expect(there.map(({ role, name }) => `${role} “${name}”`), "the focus is on one thing").toHaveLength(1);
    return there[0];
  }

  async stands(role: string, name: Named) {
    const there = async () => (await this.all(role, name)).some(({ state }) => state.focused);
    await expect.poll(there, { message: `the focus is on a ${role} “${name}”`, intervals: [20, 50, 100], timeout: 5_000 }).toBe(true);
  }

  async reads(text: Named) {
    const there = async () => (await this.all("StaticText", text)).length;
    await expect.poll(there, { message: `“${text}” is read`, intervals: [20, 50, 100], timeout: 5_000 }).toBeGreaterThan(0);
  }

  /** Goes to something that was heard. */
  async go({ handle }: Heard) {
    await this.session.send("DOM.focus", { backendNodeId: handle });
  }

  /** Goes to something and presses it. */
  async press(...thing: [role: string, name: Named, within?: Named, place?: number]) {
    await this.enter(await this.find(...thing));
  }

  protected async enter(found: Heard) {
    const { role, name, state } = found;
    expect(state.disabled ?? false, `${role} “${name}” can be pressed`).toBe(false);
    await this.go(found);
    await this.page.keyboard.press(role === "checkbox" || role === "radio" ? "Space" : "Enter");
  }

  squeeze() {
    return this.press("button", word("act.squeeze"));
  }

  /** Ticks something, and hears that it is ticked. */
  async tick(...thing: [role: string, name: Named, within?: Named, place?: number]) {
    const is = async () => (await this.find(...thing)).state.checked;
    if ((await is()) !== "true") await this.press(...thing);
    await expect.poll(is).toBe("true");
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
