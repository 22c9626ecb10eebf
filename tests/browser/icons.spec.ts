// The icons as pictures are those of the drawing. `UPDATE=1` before the command writes them anew from it.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "@playwright/test";

const FOLDER = join(__dirname, "../../static");
const DRAWING = `data:image/svg+xml;base64,${readFileSync(join(FOLDER, "icon.svg")).toString("base64")}`;

/** A file, its size, how much of it the drawing takes, and what is behind: a mask leaves a circle of four fifths. */
const ICONS: [string, number, number, string][] = [
  ["icon-192.png", 192, 1, "transparent"],
  ["icon-512.png", 512, 1, "transparent"],
  ["icon-maskable.png", 512, 0.55, "#fbfaf7"],
];

for (const [file, size, share, behind] of ICONS) {
  test(`${file} is the drawing`, async ({ page }) => {
    await page.setViewportSize({ width: size, height: size });
    const style = `position: fixed; inset: ${((1 - share) / 2) * size}px; width: ${share * size}px`;
    await page.setContent(`<body style="background: ${behind}"><img src="${DRAWING}" style="${style}"></body>`);
    const drawn = await page.screenshot({ omitBackground: true });
    if (process.env.UPDATE) writeFileSync(join(FOLDER, file), drawn);
    const kept = readFileSync(join(FOLDER, file));
    const difference = await page.evaluate(async (pictures) => {
      const [one, other] = await Promise.all(
        pictures.map(async (picture) => {
          const bitmap = await createImageBitmap(await (await fetch(`data:image/png;base64,${picture}`)).blob());
          const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
          canvas.getContext("2d")!.drawImage(bitmap, 0, 0);
          return canvas.getContext("2d")!.getImageData(0, 0, bitmap.width, bitmap.height).data;
        }),
      );
      if (one.length !== other.length) return Infinity;
      return one.reduce((sum, value, at) => sum + Math.abs(value - other[at]), 0) / one.length;
    }, [drawn, kept].map((picture) => picture.toString("base64")));
    // Of 255: another version of the browser may smooth edges otherwise.
    expect(difference).toBeLessThan(1);
  });
}
