import { afterEach, describe, expect, it, vi } from "vitest";
import { ask, askLong, upload } from "./client";

const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status });
const answer = { result: { meaning: "yes" }, warnings: [], assumptions: [], sources: [] };
const refusal = {
  problems: [
    {
      kind: "input",
      code: "out_of_range",
      where: "car.mass_kg",
      message: "Too heavy.",
      allowed: "300 to 6000",
      hint: "",
    },
  ],
};

describe("asking the program", () => {
  afterEach(() => vi.unstubAllGlobals());
  const answering = (...replies: (Response | Error)[]) => {
    const calls: [string, RequestInit | undefined][] = [];
    vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
      calls.push([url, init]);
      const next = replies.shift();
      if (!next || next instanceof Error) throw next ?? new Error("asked once too often");
      return next;
    });
    return calls;
  };

  it("sends the request as the server takes it, and only to the same place", async () => {
    const calls = answering(json(answer));
    const reply = await ask("car/check", { car: { kind: "car/1", name: "x" } });
    expect(reply.answer).toEqual(answer);
    expect(calls[0]![0]).toBe("./api/car/check");
    expect(calls[0]![1]!.headers).toEqual({ "Content-Type": "application/json" });
  });

  it("hands a refusal on with every problem", async () => {
    answering(json(refusal, 422));
    expect((await ask("car/check", { car: { kind: "car/1", name: "x" } })).problems).toEqual(refusal.problems);
  });

  it("turns a program that is gone, or that talks nonsense, into a problem and not an exception", async () => {
    answering(new TypeError("refused"), new Response("<html>"), json({}, 503));
    for (const code of ["unreachable", "unreadable", "status_503"]) {
      expect((await ask("car/check", { car: { kind: "car/1", name: "x" } })).problems![0]!.code).toBe(code);
    }
  });

  it("follows a job until it is done", async () => {
    answering(
      json({ job: "a" }, 202),
      json({ state: "running", fraction: 0.5, doing: "reading" }),
      json({ state: "done", fraction: 1, doing: "", status: 200, answer }),
    );
    const seen: number[] = [];
    const reply = await askLong(
      "test/log",
      { files: [] },
      (s) => seen.push(s.fraction),
      new AbortController().signal,
      async () => {},
    );
    expect(seen).toEqual([0.5]);
    expect(reply.answer).toEqual(answer);
  });

  it("explains a job that was refused", async () => {
    answering(json({ job: "a" }, 202), json({ state: "done", fraction: 1, doing: "", status: 422, answer: refusal }));
    const reply = await askLong(
      "test/log",
      { files: [] },
      () => {},
      new AbortController().signal,
      async () => {},
    );
    expect(reply.problems).toEqual(refusal.problems);
  });

  it("cancels the job when the person goes away", async () => {
    const giveUp = new AbortController();
    const calls = answering(json({ job: "a" }, 202), json({ state: "running", fraction: 0, doing: "" }), json({}));
    await expect(
      askLong(
        "test/log",
        { files: [] },
        () => giveUp.abort(),
        giveUp.signal,
        async () => {},
      ),
    ).rejects.toThrow();
    expect(calls.at(-1)![1]!.method).toBe("DELETE");
  });

  it("sends a file as bytes under its name", async () => {
    const calls = answering(json({ file: "f", name: "a b.csv", bytes: 3 }, 201));
    expect(await upload(new Blob(["abc"]), "a b.csv")).toEqual({ file: { file: "f", name: "a b.csv", bytes: 3 } });
    expect(calls[0]![0]).toBe("./api/files?name=a%20b.csv");
  });
});
