import catalogue from "../../src/texts/en.json";
import { speak } from "../../src/ui/words/text.ts";

speak(catalogue, "en");
