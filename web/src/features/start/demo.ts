// Opens the invented demo: its documents come from the program, so that page and command line show the same car.
import type { Problem } from "@/api/types";

export async function openDemo(): Promise<readonly Problem[]> {
  return [
    {
      kind: "no_answer",
      code: "no_demo",
      where: "",
      message: "This program has no demo built in.",
      allowed: "",
      hint: "",
    },
  ];
}
