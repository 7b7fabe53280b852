// The sheet with every gap filled by the program's typical values, to be shown in pencil.
import type { CarDocument } from "@/api/garage";
import type { CarSheetInput } from "@/api/types";
import { useAsk } from "@/api/useAsk";

export function useFilled(sheet: CarDocument) {
  const { setups: _, ...car } = sheet as unknown as CarSheetInput;
  return useAsk("car/typical", { car });
}
