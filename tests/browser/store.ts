// The store on the device, past the page that keeps it.
import { type Page } from "@playwright/test";

/** After which a write has begun. */
const WRITE_MS = 100;

/** The stores of the page, opened; none where the browser has none. Whoever asks for them closes them. */
export const stores = (page: Page) =>
  page.evaluateHandle(async () => {
    const databases = await indexedDB?.databases?.().catch(() => []);
    const opened = (databases ?? []).map(
      ({ name }) =>
        new Promise<IDBDatabase | undefined>((done) => {
          const request = indexedDB.open(name!);
          request.onsuccess = () => done(request.result);
          request.onerror = () => done(undefined);
        }),
    );
    return (await Promise.all(opened)).filter((one) => one !== undefined);
  });

/** Waits until every store has written what it was given. */
async function written(page: Page) {
  const opened = await stores(page);
  await opened.evaluate((opened) =>
    Promise.all(
      opened.map(
        (database) =>
          new Promise<void>((done) => {
            const waiting = database.transaction([...database.objectStoreNames], "readonly");
            waiting.oncomplete = () => done(database.close());
            waiting.objectStore(database.objectStoreNames[0]).count();
          }),
      ),
    ),
  );
}

/** Waits until what was done is written, where anything can be. */
export async function settled(page: Page) {
  await page.waitForTimeout(WRITE_MS);
  await written(page).catch(() => undefined);
}
