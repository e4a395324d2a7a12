import { mount } from "svelte";
import App from "./App.svelte";
import "./styles/tokens.css";
import "./styles/base.css";
import "./styles/frame.css";
import "./styles/parts.css";
import "./styles/forms.css";
import "./styles/chores.css";
import "./styles/doe.css";
import { model } from "./ui/model.svelte.ts";
import { watchForNewVersion } from "./ui/worker.ts";

mount(App, { target: document.getElementById("app")! });
void model.start();
watchForNewVersion(() => (model.newVersion = true));
