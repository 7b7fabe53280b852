// The sheets of the drawing set, in the order of the job. Adding a room is adding a folder and one line here.
import type { ComponentType } from "preact";
import type { SheetName } from "@/widgets/TitleBlock";

export interface RoomEntry extends SheetName {
  load: () => Promise<ComponentType>;
}

export const ROOMS: readonly RoomEntry[] = [
  {
    room: "start",
    n: 0,
    name: "Start",
    question: "Where was I?",
    load: async () => (await import("@/features/start/StartSheet")).StartSheet,
  },
  {
    room: "car",
    n: 1,
    name: "Car",
    question: "What is this car?",
    load: async () => (await import("@/features/car/CarSheet")).CarSheet,
  },
  {
    room: "bars",
    n: 2,
    name: "Bars",
    question: "Which hole?",
    load: async () => (await import("@/features/bars/BarsSheet")).BarsSheet,
  },
  {
    room: "forecast",
    n: 3,
    name: "Forecast",
    question: "What will it do?",
    load: async () => (await import("@/features/forecast/ForecastSheet")).ForecastSheet,
  },
  {
    room: "choose",
    n: 4,
    name: "Choose",
    question: "What is worth the money?",
    load: async () => (await import("@/features/choose/ChooseSheet")).ChooseSheet,
  },
  {
    room: "fit",
    n: 5,
    name: "Fit",
    question: "How do I fit it neutral and safe?",
    load: async () => (await import("@/features/fit/FitSheet")).FitSheet,
  },
  {
    room: "test",
    n: 6,
    name: "Test",
    question: "What did it do?",
    load: async () => (await import("@/features/test/TestSheet")).TestSheet,
  },
  {
    room: "film",
    n: 7,
    name: "Film",
    question: "What does the film show?",
    load: async () => (await import("@/features/film/FilmSheet")).FilmSheet,
  },
  {
    room: "verdict",
    n: 8,
    name: "Verdict",
    question: "Was it worth it?",
    load: async () => (await import("@/features/verdict/VerdictSheet")).VerdictSheet,
  },
  {
    room: "notebook",
    n: 9,
    name: "Notebook",
    question: "Is it all here, and still right?",
    load: async () => (await import("@/features/notebook/NotebookSheet")).NotebookSheet,
  },
];

// Beside the job: the phone as the recorder, reached from the sheets that need it.
export const RECORD: RoomEntry = {
  room: "record",
  n: 0,
  name: "Recorder",
  question: "Record with this phone",
  load: async () => (await import("@/features/record/RecordSheet")).RecordSheet,
};

// Not part of the job: the sheet of all parts, for those who build the page.
export const KIT: RoomEntry = {
  room: "kit",
  n: 0,
  name: "Kit",
  question: "All parts",
  load: async () => (await import("@/features/kit/KitSheet")).KitSheet,
};
