// A measurement whose answers go into the car sheet.
import { estimateAt } from "@/api/documents";
import { type CarDocument, setCarNumber } from "@/api/garage";
import { asMeasured, isOnSheet } from "@/api/readings";
import type { Interval } from "@/base/estimate";
import type { UnitKey } from "@/base/units";
import { type FrameProps, MeasureFrame } from "@/widgets/MeasureFrame";

export interface PlaceProps {
  sheet: CarDocument;
  filled: unknown; // the same with typical values in its gaps
}
export interface Found {
  key: string; // of the car sheet
  name: string;
  term?: string;
  unit: UnitKey;
  of: Interval;
}

export function MeasurePage({ sheet, found, ...frame }: FrameProps & { sheet: CarDocument; found: readonly Found[] }) {
  return (
    <MeasureFrame
      {...frame}
      back={{ to: "car", name: "back to the car" }}
      uses={found.map(({ key, ...f }) => {
        const now = estimateAt(sheet, key);
        return {
          ...f,
          now,
          isUsed: isOnSheet(now, f.of),
          sheet: "the car sheet",
          onUse: () => setCarNumber(key, f.name, asMeasured(f.of)),
        };
      })}
    />
  );
}
