// Receives real deliveries of a demo and reads them as an independent receiver would: signatures by the npm package standardwebhooks,
// events by the npm package cloudevents. Exit code 1 where either of them does not take one, or where one is missing or out of order.
//
//   node deliveries.mjs ../../src/Workshop.Service/bin/Debug/net10.0/Workshop.Service.dll [--break]
//
// --break changes one byte of every body before it is verified: a check that takes anything is worth nothing.

import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { HTTP } from 'cloudevents';
import { Webhook } from 'standardwebhooks';

const [program, ...options] = process.argv.slice(2);
if (!program) {
  console.error('Say where Workshop.Service.dll is.');
  process.exit(2);
}

const wanted = ['job.received', 'quote.issued', 'job.stage-changed', 'payment.asked', 'quote.superseded'];
const secrets = [];
const events = [];
const faults = [];
const ids = new Map();
let attempts = 0;

function take(headers, body) {
  attempts++;
  const text = options.includes('--break') ? body.toString().replace('"job"', '"jab"') : body.toString();
  for (const secret of secrets) {
    try {
      new Webhook(secret).verify(text, headers);
    } catch (refusal) {
      faults.push(`${headers['webhook-id']}: ${refusal.message}`);
    }
  }

  const event = HTTP.toEvent({ headers, body: text });
  event.validate();
  if (event.id !== headers['webhook-id']) {
    faults.push(`${event.id} came as ${headers['webhook-id']}`);
  }

  if (ids.has(event.id) && ids.get(event.id) !== text) {
    faults.push(`${event.id} came again with another body`);
  }

  if (!ids.has(event.id)) {
    ids.set(event.id, text);
    events.push(event);
  }
}

// Every third answer is a refusal, so that messages come again.
const server = createServer((request, response) => {
  const parts = [];
  request.on('data', part => parts.push(part));
  request.on('end', () => {
    take(request.headers, Buffer.concat(parts));
    response.statusCode = attempts % 3 === 2 ? 500 : 204;
    response.end();
  });
});
await new Promise(listening => server.listen(0, '127.0.0.1', listening));

const folder = mkdtempSync(join(tmpdir(), 'deliveries-'));
const demo = spawn('dotnet', [program, 'demo', '--json', '--empty', '--port', '0', '--data', folder], { stdio: ['ignore', 'pipe', 'ignore'] });
try {
  const { url, keys } = JSON.parse(await new Promise((said, failed) => {
    createInterface({ input: demo.stdout }).once('line', said);
    demo.once('exit', code => failed(new Error(`The demo ended with ${code}.`)));
  }));

  const ask = async (role, method, path, body) => {
    const answer = await fetch(new URL(path, url), {
      method,
      headers: { authorization: `Bearer ${keys[role]}`, 'content-type': 'application/json' },
      body: body && JSON.stringify(body),
    });
    if (!answer.ok) {
      throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    }

    return answer.json();
  };

  const address = `http://127.0.0.1:${server.address().port}/hooks`;
  const endpoint = await ask('manager', 'POST', '/v1/webhook-endpoints', { url: address });
  secrets.push(endpoint.secret);

  // While a secret is rotated every message carries a signature by each.
  const rotated = await ask('manager', 'POST', `/v1/webhook-endpoints/${endpoint.id}/secrets`, { oldOnesFor: 'PT1H' });
  secrets.push(rotated.secret);

  // The second time a version that nobody answered is followed by another.
  for (const versions of [1, 2]) {
    const { label } = await ask('desk', 'POST', '/v1/jobs', { customer: { telephone: '01632 960 117' }, watch: { words: 'an old automatic, Zürich' } });
    const lines = [{ text: 'Full service', amountMinor: 48000, taxMinor: 8000 }];
    for (let version = 1; version <= versions; version++) {
      await ask('desk', 'POST', `/v1/jobs/${label}/quotes`, { lines, currency: 'GBP', depositMinor: 10000, despite: ['needs/diagnosis'] });
    }

    await ask('desk', 'POST', `/v1/jobs/${label}/quotes/${versions}/answer`, { accepted: true });
  }

  const until = Date.now() + 60_000;
  const missing = () => wanted.filter(type => !events.some(event => event.type === type));
  while (Date.now() < until && faults.length === 0 && missing().length > 0) {
    await new Promise(later => setTimeout(later, 200));
  }

  for (const type of missing()) {
    faults.push(`No ${type} came.`);
  }

  for (const job of new Set(events.map(event => event.subject))) {
    const positions = events.filter(event => event.subject === job).map(event => Number(event.sequence));
    if (positions.some((position, i) => i > 0 && position <= positions[i - 1])) {
      faults.push(`Out of order: ${positions.join(' ')}`);
    }
  }
} finally {
  demo.removeAllListeners('exit');
  demo.kill();
  server.close();
  server.closeAllConnections();
  rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
}

for (const fault of faults) {
  console.log(fault);
}

console.log(`${attempts} deliveries of ${events.length} messages verified, ${faults.length} faults`);
process.exitCode = faults.length === 0 ? 0 : 1;
