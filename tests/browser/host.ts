// A web host of a test's own: it can be shut, lack a file, and change to a next version of the site.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync } from "node:fs";
import { type Server, createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";

type Site = Map<string, Buffer>;

const KINDS: Record<string, string> = {
  css: "text/css", html: "text/html; charset=utf-8", js: "text/javascript", json: "application/json", png: "image/png",
  svg: "image/svg+xml", wasm: "application/wasm", webmanifest: "application/manifest+json",
};

/** The site as it was built, without the packed twins of its files. */
export function built(): Site {
  const dist = process.env.DIST!;
  const files = readdirSync(dist, { recursive: true, withFileTypes: true }).filter((file) => file.isFile());
  const addresses = files.map((file) => join(file.parentPath, file.name).slice(dist.replace(/\/$/, "").length + 1));
  return new Map(addresses.filter((one) => !/\.(br|gz)$/.test(one)).map((one) => [one, readFileSync(join(dist, one))]));
}

/** The list that the worker of a site has. */
export function listed(site: Site): { version: string; parts: Record<string, string> } {
  return JSON.parse(/^const SITE = (.*);\n/.exec(site.get("sw.js")!.toString())![1]);
}

/** The next version of a site: one English text differs, and with it a name, the page and the version. */
export function next(site: Site, said: string): Site {
  const made = new Map(site);
  const [old] = [...site.keys()].filter((address) => address.startsWith("words/en-"));
  const words = { ...JSON.parse(site.get(old)!.toString()), "ui.nav.about": said };
  const hash = createHash("sha256").update(said).digest("hex").slice(0, 16);
  const name = `words/en-${hash}.json`;
  const { version, parts } = listed(site);
  made.delete(old);
  made.set(name, Buffer.from(JSON.stringify(words)));
  const newer = `0.1.0+${hash}`;
  made.set("index.html", Buffer.from(site.get("index.html")!.toString().replaceAll(old, name).replaceAll(version, newer)));
  const integrity = (address: string) => `sha256-${createHash("sha256").update(made.get(address)!).digest("base64")}`;
  delete parts[old];
  Object.assign(parts, { [name]: integrity(name), "./": integrity("index.html") });
  const worker = site.get("sw.js")!.toString().replace(/^const SITE = .*;\n/, "");
  made.set("sw.js", Buffer.from(`const SITE = ${JSON.stringify({ version: newer, parts })};\n${worker}`));
  return made;
}

export class Host {
  /** What was asked for and is not there. */
  missed: string[] = [];
  private server: Server | null = null;

  private constructor(public site: Site, readonly folder: string, private port: number) {}

  /** Opens a host with the site in a folder of it. */
  static async open(site: Site, folder = "/") {
    const host = new Host(site, folder, 0);
    await host.reopen();
    return host;
  }

  get url() {
    return `http://127.0.0.1:${this.port}${this.folder}`;
  }

  /** Opens it again at the same port. */
  async reopen() {
    this.server = createServer((request, response) => {
      const { pathname } = new URL(request.url!, "http://127.0.0.1");
      const address = pathname.startsWith(this.folder) ? pathname.slice(this.folder.length) || "index.html" : "";
      const found = this.site.get(address);
      if (!found && address !== "favicon.ico") this.missed.push(pathname);
      response.writeHead(found ? 200 : 404, { "content-type": KINDS[address.split(".").pop()!] ?? "text/plain", "cache-control": "max-age=600" });
      response.end(found);
    });
    await new Promise<void>((done) => this.server!.listen(this.port, "127.0.0.1", done));
    this.port = (this.server.address() as AddressInfo).port;
  }

  /** Shuts it: whoever asks finds nobody. */
  async shut() {
    this.server?.closeAllConnections();
    await new Promise((done) => (this.server ? this.server.close(done) : done(null)));
    this.server = null;
  }
}
