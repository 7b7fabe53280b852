// The sheet with every gap filled by the program's typical values, to be shown in pencil.
import type { CarDocument } from "@/api/garage";

export function useFilled(_sheet: CarDocument): unknown {
  return null;
}
