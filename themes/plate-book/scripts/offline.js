// The site without a network: its worker is set up here, and asked. Nothing is where the browser cannot.

const root = new URL("../", import.meta.url); // this module lies in assets/
export const canKeep = "serviceWorker" in navigator && window === window.top;

/** What the worker answers to a task of scripts/keeper.js; an Error where it cannot do it. */
export async function ask(does, about = {}) {
  const { active } = await navigator.serviceWorker.ready;
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve, reject) => {
    port1.addEventListener("message", ({ data }) => {
      port1.close();
      if ("failed" in data) reject(new Error(data.failed));
      else resolve(data.said);
    });
    port1.start();
    active.postMessage({ does, ...about }, [port2]);
  });
}

async function setUp() {
  const manifest = document.createElement("link");
  manifest.rel = "manifest";
  manifest.href = new URL("site.webmanifest", root);
  document.head.append(manifest);
  const registration = await navigator.serviceWorker.register(new URL("offline.js", root));
  // back on the network: what was pressed meanwhile is asked for
  addEventListener("online", () => registration.update().catch(() => null));
}

// a browser told to keep nothing, or a host without the file: the pages are what they are without it
if (canKeep) setUp().catch(() => null);
