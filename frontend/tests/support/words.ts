import catalogue from "../../src/texts/en.json";
import { speak } from "../../src/ui/text.ts";

speak(catalogue, "en");
