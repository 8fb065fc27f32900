// Reads a calendar of a demo as a subscriber would, by the npm package ical.js. Exit code 1 where it cannot, or where the calendar does not keep what
// it promises: names that stay, numbers that count up, what is called off.
//
//   node feeds.mjs ../../src/Workshop.Service/bin/Debug/net10.0/Workshop.Service.dll [--break]
//
// --break takes the fold out of the lines and the name out of the first event before they are read: a check that takes anything is worth nothing.

import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import ICAL from 'ical.js';

const [program, ...options] = process.argv.slice(2);
if (!program) {
  console.error('Say where Workshop.Service.dll is.');
  process.exit(2);
}

const faults = [];
const check = (right, fault) => right || faults.push(fault);

function read(text) {
  if (options.includes('--break')) {
    text = text.replaceAll('\r\n ', '').replace(/^UID:.*\r\n/m, '');
  }

  check(!/[^\r]\n/.test(text), 'a line does not end with CRLF');
  for (const line of text.split('\r\n')) {
    check(Buffer.byteLength(line) <= 75, `a line has ${Buffer.byteLength(line)} octets`);
  }

  const calendar = new ICAL.Component(ICAL.parse(text));
  check(calendar.getFirstPropertyValue('version') === '2.0' && calendar.getFirstPropertyValue('prodid'), 'no VERSION or PRODID');
  const events = new Map();
  for (const component of calendar.getAllSubcomponents('vevent')) {
    const event = new ICAL.Event(component);
    check(event.uid && !events.has(event.uid), `an event without a UID, or one twice: ${event.uid}`);
    check(event.startDate.zone === ICAL.Timezone.utcTimezone, `${event.uid} does not begin in UTC`);
    check(event.duration.toSeconds() === 15 * 60, `${event.uid} lasts ${event.duration}`);
    check(component.getFirstPropertyValue('dtstamp'), `${event.uid} has no DTSTAMP`);
    events.set(event.uid, { summary: event.summary, starts: event.startDate.toJSDate(), sequence: event.sequence, status: component.getFirstPropertyValue('status') });
  }

  return events;
}

const folder = mkdtempSync(join(tmpdir(), 'feeds-'));
const demo = spawn('dotnet', [program, 'demo', '--json', '--port', '0', '--data', folder], { stdio: ['ignore', 'pipe', 'ignore'] });
let looked = 0;
try {
  const { url, keys } = JSON.parse(await new Promise((said, failed) => {
    createInterface({ input: demo.stdout }).once('line', said);
    demo.once('exit', code => failed(new Error(`The demo ended with ${code}.`)));
  }));

  const ask = async (role, method, path, body, type = 'application/json') => {
    const answer = await fetch(new URL(path, url), {
      method,
      headers: { authorization: `Bearer ${keys[role]}`, 'content-type': type },
      body: body && JSON.stringify(body),
    });
    if (!answer.ok) {
      throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    }

    return answer.json();
  };

  const { source } = await ask('manager', 'GET', '/v1/me');
  const { now } = await ask('manager', 'GET', '/v1/time');
  let number = 0;
  const say = (subject, type, data) => ask('manager', 'POST', '/v1/bench-events', { specversion: '1.0', id: `feeds-${++number}`, source, type, subject, data }, 'application/cloudevents+json');
  const { address } = await ask('desk', 'POST', '/v1/agenda/feeds', {});
  const show = async () => {
    const answer = await fetch(new URL(address, url));
    check(answer.headers.get('content-type')?.startsWith('text/calendar'), `it is ${answer.headers.get('content-type')}`);
    return read(await answer.text());
  };

  const before = await show();
  looked = before.size;
  check(before.size > 10, `only ${before.size} events in a house full of watches`);

  const { label } = await ask('desk', 'POST', '/v1/jobs', { customer: { telephone: '01632 960 117' }, watch: { words: 'an old automatic, Zürich' } });
  const later = days => new Date(Date.parse(now) + days * 86_400_000).toISOString().slice(0, 10);
  await say(label, 'hold.placed', { hold: 'customer', until: later(9), reason: 'away; back soon, says the daughter' });
  const placed = [...await show()].find(([, event]) => event.summary.startsWith(label) && event.starts > new Date(Date.parse(now) + 5 * 86_400_000));
  check(placed, 'what falls due in nine days is not shown');

  await say(label, 'hold.lifted', { hold: 'customer' });
  const lifted = (await show()).get(placed?.[0]);
  check(lifted?.status === 'CANCELLED' && lifted.sequence === placed[1].sequence + 1, `what was called off is ${JSON.stringify(lifted)}`);
} catch (failure) {
  faults.push(failure.message);
} finally {
  demo.removeAllListeners('exit');
  demo.kill();
  rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
}

for (const fault of faults.slice(0, 12)) {
  console.log(fault);
}

console.log(`${looked} events of a calendar read, ${faults.length} faults`);
process.exitCode = faults.length === 0 ? 0 : 1;
