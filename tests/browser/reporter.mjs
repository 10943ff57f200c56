// SPDX-License-Identifier: GPL-3.0-or-later
// Says what cmocka's programs say, so that scripts/count-tests.awk counts each case.
import { inspect } from 'node:util';

const isCase = ({ details }) => details?.type !== 'suite';

function* told(data) {
  const error = data.details.error?.cause ?? data.details.error;
  const text = error?.stack ?? inspect(error);
  for (const line of text.split('\n')) yield `[  ERROR   ] ${line}\n`;
}

export default async function* reporter(events) {
  for await (const { type, data } of events) {
    if (type === 'test:pass' && isCase(data)) {
      if (data.skip !== undefined) yield `[ RUN      ] ${data.name}\n[  SKIPPED ] ${data.name}\n`;
      else yield `[ RUN      ] ${data.name}\n[       OK ] ${data.name}\n`;
    } else if (type === 'test:fail' && isCase(data)) {
      yield `[ RUN      ] ${data.name}\n`;
      yield* told(data);
      yield `[  FAILED  ] ${data.name}\n`;
    } else if (type === 'test:fail') {
      yield* told(data);
    } else if (type === 'test:diagnostic' && !/^(tests|suites|pass|fail|cancelled|skipped|todo|duration_ms) /.test(data.message)) {
      yield `${data.message}\n`;
    } else if (type === 'test:stdout' || type === 'test:stderr') {
      yield data.message;
    }
  }
}
