import { render } from "preact";
import { startKeeping } from "@/api/keeper";
import { learnOperations } from "@/api/operations";
import { keepSettings } from "@/base/settings";
import "@/base/tokens.css";
import "@/base/sheet.css";
import "@/base/drawing.css";
import "@/widgets/num.css";
import "@/widgets/press.css";
import "@/widgets/field.css";
import "@/widgets/drop.css";
import "@/widgets/block.css";
import "@/charts/bar.css";
import { App } from "./App";

keepSettings(document.documentElement);
void learnOperations();
render(<App />, document.getElementById("app")!);
startKeeping();
