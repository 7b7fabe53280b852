// The order of work for one bar, one step a screen. What the maker's manual says wins; these are the steps that are the
// same on every car (common practice, no source).
export interface Step {
  key: string;
  short: string; // in the list of steps
  title: string; // what to do, as the screen's title
  caution: { title: string; text: string };
  notes: readonly string[];
  done: string; // on the tick
  link?: "left" | "right"; // the step with the turn counter
  shows?: "torques" | "recheck";
}

export const STEPS: readonly Step[] = [
  {
    key: "lift",
    short: "Chock, lift, stands",
    title: "Chock two wheels, lift, and set the stands.",
    caution: {
      title: "Never under a car on a jack alone.",
      text: "Level hard ground. Stands under the maker’s lifting points, both sides, then a shove test before a hand goes under.",
    },
    notes: [
      "Both wheels of the axle hang at the same height, so that the old bar is not twisted.",
      "Slacken wheel nuts before lifting; take the wheels off after the shove test.",
    ],
    done: "It stands firm",
  },
  {
    key: "links-off",
    short: "Old links off",
    title: "Take both old links off.",
    caution: {
      title: "A twisted bar bites.",
      text: "Both wheels at the same height first. If a bolt is tight against its hole, raise one wheel until it is free.",
    },
    notes: [
      "Hold the joint’s pin while you turn the nut, or the boot tears.",
      "Keep the old nuts only to compare: locking nuts are used once.",
    ],
    done: "Both are off",
  },
  {
    key: "bar-out",
    short: "Old bar out",
    title: "Undo the brackets and bring the old bar out.",
    caution: {
      title: "It is heavier than it looks.",
      text: "Hold it with two hands before the last bolt comes out. Mind brake lines and sensor wires on its way.",
    },
    notes: [
      "Photograph how it lay: which way up, which side of the pipes.",
      "Weigh and measure it now, if its sheet is still in pencil.",
    ],
    done: "The old bar is out",
  },
  {
    key: "look",
    short: "Look over the new parts",
    title: "Look over every new part before it goes in.",
    caution: {
      title: "What is wrong now is wrong at speed.",
      text: "Cracks in paint at bends and eyes, threads that bind, a bracket that does not sit flat: send it back.",
    },
    notes: [
      "Diameter by caliper, holes by tape: type them into the bars sheet.",
      "Count threads left inside each rod end: at least one and a half times the thread’s width must stay in (common practice).",
    ],
    done: "All of it is sound",
  },
  {
    key: "bar-in",
    short: "Bar in, brackets loose",
    title: "Lay the new bar in; brackets finger-tight.",
    caution: {
      title: "Nothing may touch.",
      text: "Swing both ends from full droop to bump by hand: no pipe, wire, tyre or joint boot on the way.",
    },
    notes: [
      "Grease between bar and bushing, the kind the maker names for its rubber.",
      "An angled bar has a right way up: its arms point as the old ones did.",
    ],
    done: "It swings free",
  },
  {
    key: "left",
    short: "Left link to length",
    title: "Turn the left link until the eye slides in free.",
    caution: {
      title: "On its wheels, the driver’s weight in the seat.",
      text: "Chocks in. The car at the height it drives at, on level ground, rolled a metre to and fro first. Hands out from under before anybody gets in or out.",
    },
    notes: [
      "No force at the eye is the aim (zero preload).",
      "Slacken both locknuts first; one of them may have a left-hand thread.",
    ],
    done: "It slides in free",
    link: "left",
  },
  {
    key: "right",
    short: "Right link to length",
    title: "Turn the right link until the eye slides in free.",
    caution: {
      title: "On its wheels, the driver’s weight in the seat.",
      text: "As on the left. This is the link that decides: with the left one in, any gap here twists the bar.",
    },
    notes: [
      "Push the car down and let it settle before you read the gap.",
      "The same gap after settling three times is the gap to trust.",
    ],
    done: "It slides in free",
    link: "right",
  },
  {
    key: "torque",
    short: "Torque everything",
    title: "Torque every fastener, once, in order.",
    caution: {
      title: "The maker’s figures, not a feeling.",
      text: "Brackets, then links, then locknuts, wheel nuts last, on the ground. New locking nuts. Mark each with paint when it is done.",
    },
    notes: [
      "Rubber bushings of arms are tightened at driving height.",
      "The figures stay here: they are asked for again after the first drive.",
    ],
    done: "All marked",
    shows: "torques",
  },
  {
    key: "roll",
    short: "Roll it, re-check",
    title: "Roll it, listen, and look again.",
    caution: {
      title: "Slowly, on private ground, alone.",
      text: "A knock, a rub or a pull to one side means stop. Torque everything again after the first drive.",
    },
    notes: ["Full lock both ways at walking pace: nothing may touch.", "Then measure it, on the test sheet."],
    done: "Nothing knocks",
    shows: "recheck",
  },
];
