// A bench's end of POST /v1/bench-events: keeps what a person said until the service has it, and shows what the service says.
//
//   const client = await openBenchClient({ storage, fetch, now, random, newId, within, show });
//   await client.pair({ service, key, source });     once for each pairing
//   await client.say({ type, subject, data });       a person pressed or scanned: kept from here on
//   await client.wake();                             sends what may be sent now; after each say, and every few seconds
//
// Everything it touches is given from outside:
//   storage   get(name) → text or null, set(name, text): one text, replaced as a whole or not at all; may answer later
//   fetch     as browsers have it
//   now       () → milliseconds since 1970 by the device's own clock, right or wrong
//   random    () → from 0 up to 1; newId: () → a text never used before, for example a UUID
//   within    (milliseconds) → an AbortSignal that ends a request nobody answers
//   show      ({ signal, line, more, cautions, helps, id }) what a person is to see; nothing of it is looked up in a table here

const NAME = "bench-client";
const BATCH_AT_MOST = 500;
const ANSWER_WITHIN = 30_000;
const FIRST_PAUSE = 2_000;
const LONGEST_PAUSE = 5 * 60_000;
const ASK_AGAIN_AFTER = 5_000;
const GAP = "device.gap-declared";

export async function openBenchClient({ storage, fetch, now, random, newId, within, show }) {
  const kept = await storage.get(NAME);
  const state = kept ? JSON.parse(kept) : { service: null, key: null, source: null, paired: false, next: 1, queue: [], setAside: [] };
  let pause = null;
  let failures = 0;
  let batchAtMost = BATCH_AT_MOST;
  let underWay = null;
  let saving = Promise.resolve();

  // One after another: a slow save must not end behind a later one.
  function save() {
    saving = saving.catch(() => {}).then(() => storage.set(NAME, JSON.stringify(state)));
    return saving;
  }

  // The number is used up in the same save that keeps the event: neither can be there without the other.
  function add(type, subject, data) {
    const event = { specversion: "1.0", id: newId(), source: state.source, sequence: String(state.next++), time: written(now()), type };
    if (subject) {
      event.subject = subject;
    }

    state.queue.push({ event: { ...event, data } });
    return event;
  }

  /** Keeps what a person said. Once this is done it outlives a power cut; shows nothing and sends nothing. */
  async function say({ type, subject, data }) {
    const event = add(type, subject, data ?? {});
    await save();
    return { id: event.id, sequence: event.sequence };
  }

  /**
   * A key for a source. Under a new source numbers begin at 1, and what still waits goes out under it in its old order, with its ids and
   * times: the new key may not speak for the old source.
   */
  async function pair({ service, key, source }) {
    if (source !== state.source) {
      state.queue = state.queue.filter(({ event }) => event.type !== GAP);
      state.queue = state.queue.map(({ event }, i) => ({ event: { ...event, source, sequence: String(i + 1) } }));
      state.next = state.queue.length + 1;
    }

    Object.assign(state, { service, key, source, paired: true });
    pause = null;
    failures = 0;
    await save();
  }

  /** Sends what may be sent now, until nothing is left, or a pause begins, or the key is refused. */
  function wake() {
    underWay ??= deliver().finally(() => { underWay = null; });
    return underWay;
  }

  async function deliver() {
    while (state.paired && isOver(pause)) {
      const batch = state.queue.filter((entry) => isOver(entry.askAgain)).slice(0, batchAtMost);
      if (batch.length === 0 || !await post(batch)) {
        return;
      }
    }
  }

  /** True when the next batch may follow at once. */
  async function post(batch) {
    const key = state.key;
    const one = batch.length === 1;
    let answer, body;
    try {
      answer = await fetch(`${state.service.replace(/\/+$/, "")}/v1/bench-events`, {
        method: "POST",
        headers: {
          "Authorization": `Bearer ${key}`,
          "Content-Type": one ? "application/cloudevents+json" : "application/cloudevents-batch+json",
          "Sent-At": written(now()),
        },
        body: JSON.stringify(one ? batch[0].event : batch.map((entry) => entry.event)),
        // The key is for this address alone.
        redirect: "error",
        credentials: "omit",
        cache: "no-store",
        signal: within(ANSWER_WITHIN),
      });
      body = await answer.text();
    } catch {
      return wait();
    }

    if (key !== state.key) {
      // Paired anew meanwhile: the answer is about a key that is no longer ours, and the batch may have new numbers.
      return true;
    }

    switch (answer.status) {
      case 401:
      case 403:
        return askToBePaired();
      case 413:
        return one ? cannotBeSent(batch[0]) : halve(batch);
      case 400:
      case 409:
      case 422:
        return one ? hear(batch, [refused(read(body))]) : halve(batch);
      case 200:
        return hear(batch, one ? [read(body)] : read(body));
      default:
        return wait(answer.headers.get("Retry-After"));
    }
  }

  async function hear(batch, results) {
    // Somebody in between may answer 200 with a page of his own: what does not answer these very events is no answer.
    const whole = Array.isArray(results) && results.length === batch.length
      && results.every((result, i) => typeof result?.outcome === "string" && (result.id == null || result.id === batch[i].event.id));
    if (!whole) {
      return wait();
    }

    let goOn = true;
    results.forEach((result, i) => { goOn = judge(batch[i], result) && goOn; });
    if (goOn) {
      pause = null;
      failures = 0;
      batchAtMost = Math.min(BATCH_AT_MOST, batchAtMost * 2);
    }

    await save();
    return goOn;
  }

  function judge(entry, result) {
    switch (result.outcome) {
      case "accepted":
      case "noted":
      case "replayed":
        return remove(entry, result);
      case "refused":
        return judgeRefused(entry, result);
      case "held":
        return askLater(entry, result, true);
      default:
        // A word of a later version. What it means for the event is not known here, so the event stays and is asked about again.
        return askLater(entry, result, false);
    }
  }

  function judgeRefused(entry, result) {
    const { status, code } = result.problem ?? {};
    if (status === 401 || status === 403) {
      state.paired = false;
      return false;
    }

    if (status === 409 && code !== "event-conflict") {
      return remove(entry, result);
    }

    if (status === 400 || status === 409 || status === 422) {
      return setAside(entry, result);
    }

    wait();
    return false;
  }

  function remove(entry, result) {
    state.queue = state.queue.filter((other) => other !== entry);
    tell(entry, result);
    return true;
  }

  function setAside(entry, result) {
    state.setAside.push({ event: entry.event, problem: result.problem, at: written(now()) });
    return remove(entry, result);
  }

  function askLater(entry, result, held) {
    if (!entry.askAgain) {
      tell(entry, result);
    }

    entry.held = held;
    entry.askAgain = from(ASK_AGAIN_AFTER);
    return true;
  }

  function tell({ event }, { say, problem }) {
    const { signal = "stop", line = problem?.title ?? "", more, cautions = [] } = say ?? {};
    show({ signal, line, more, cautions, helps: problem?.helps, id: event.id });
  }

  async function askToBePaired() {
    state.paired = false;
    await save();
    return false;
  }

  function halve(batch) {
    batchAtMost = Math.ceil(batch.length / 2);
    return true;
  }

  // It will never arrive, and those behind it must not wait for its number.
  async function cannotBeSent(entry) {
    const number = Number(entry.event.sequence);
    setAside(entry, { problem: { status: 413, title: "Too large to be sent" } });
    if (entry.event.type !== GAP) {
      add(GAP, null, { from: number, to: number });
    }

    await save();
    return true;
  }

  // Grows from failure to failure; the random part keeps benches that lost the service together from coming back together.
  function wait(retryAfter) {
    const usual = Math.min(LONGEST_PAUSE, FIRST_PAUSE * 2 ** failures++) * (0.75 + random() / 2);
    const asked = /^\d+$/.test(retryAfter ?? "") ? Number(retryAfter) * 1000 + FIRST_PAUSE * random() : 0;
    pause = from(Math.max(usual, asked));
    return false;
  }

  const from = (milliseconds) => ({ since: now(), until: now() + Math.ceil(milliseconds) });

  // A clock that was set back meanwhile must not make a pause last for a year.
  function isOver(span) {
    if (span && now() < span.since) {
      Object.assign(span, from(span.until - span.since));
    }

    return !span || now() >= span.until;
  }

  /** What there is to see, for a page and for whoever tries this client out. */
  function look() {
    return {
      queue: state.queue.map(({ event: { id, sequence, type }, held }) => ({ id, sequence, type, held: held === true })),
      setAside: state.setAside.map(({ event: { id, sequence, type }, problem }) => ({ id, sequence, type, status: problem.status, code: problem.code })),
      paired: state.paired,
      pausedUntil: isOver(pause) ? null : written(pause.until),
    };
  }

  return { say, pair, wake, look };
}

const written = (milliseconds) => new Date(milliseconds).toISOString();

function read(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

// A refused event that came alone is answered with its problem; in a batch the problem is a member of its result.
const refused = (problem) => typeof problem?.status === "number" ? { outcome: "refused", say: problem.say, problem } : null;
