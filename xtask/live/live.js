// Tells how the build is doing, and fetches the page anew when it is another. Only `serve` puts this into a page.
const own = JSON.parse(document.getElementById("site")?.textContent ?? "{}").version ?? null;
const panel = document.createElement("pre");
panel.id = "live";
panel.setAttribute("role", "status");

const show = (text) => {
  panel.textContent = text;
  // An empty panel must not lie over the page.
  if (text) document.body.append(panel);
  else panel.remove();
};

const events = new EventSource("live/events");
events.onmessage = ({ data }) => {
  const { stage, text, version } = JSON.parse(data);
  if (stage === "ready" && version !== own) location.reload();
  else show({ building: `building  ${text}`, broken: text, ready: "" }[stage]);
};
events.onerror = () => show("the server has stopped");
