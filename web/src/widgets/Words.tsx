// A sentence of the program: its numbers kept together, and where it names one of its questions, a link to the place.

import { unbroken } from "@/base/format";
import { withPlaces } from "@/base/places";
import { hrefOf } from "@/base/route";

export function Words({ text }: { text: string }) {
  return (
    <>
      {withPlaces(text).map((piece, i) =>
        typeof piece === "string" ? (
          unbroken(piece)
        ) : (
          <a key={i} href={hrefOf(piece.at)}>
            {piece.name}
          </a>
        ),
      )}
    </>
  );
}
