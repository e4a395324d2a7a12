import { mount } from "svelte";
import App from "./App.svelte";
import "./styles/tokens.css";
import "./styles/base.css";
import "./styles/frame.css";
import "./styles/parts.css";
import "./styles/forms.css";
import "./styles/chores.css";
import "./styles/round.css";
import "./styles/off_feed.css";
import "./styles/doe.css";
import "./styles/wide.css";
import "./styles/print.css";
import { speech } from "./ui/shell/language.svelte.ts";
import { day } from "./ui/model/day.svelte.ts";
import { session } from "./ui/model/session.svelte.ts";
import { keepDrafts } from "./ui/shell/drafts.ts";
import { keepPlaces } from "./ui/shell/places.ts";
import { waitForInstall } from "./ui/shell/install.svelte.ts";
import { keepPresses } from "./ui/shell/press.ts";
import { watchForNewVersion } from "./ui/shell/worker.ts";

const words = speech.start();
keepPresses();
waitForInstall();
keepPlaces();
keepDrafts(() => session.farm?.person ?? "");
day.start();
void session.start();
watchForNewVersion(() => (session.newVersion = true));
// Without words there is nothing to show but the page's own sentence; what was recorded is sent all the same.
void words.then((there) => {
  if (there) mount(App, { target: document.getElementById("app")! });
  else document.getElementById("no-words")!.hidden = false;
});
