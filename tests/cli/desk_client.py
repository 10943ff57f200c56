# SPDX-License-Identifier: GPL-3.0-or-later
"""A desk that runs, and raw requests to it."""
import json
import os
import socket
import subprocess
import urllib.parse

from harness import PROGRAM


class Answer:
    """What came back: `status` is 0 when nothing did."""

    def __init__(self, raw):
        head, _, self.body = raw.partition(b'\r\n\r\n')
        lines = head.decode('latin-1').split('\r\n')
        parts = lines[0].split(' ')
        self.status = int(parts[1]) if len(parts) > 1 else 0
        self.fields = {}
        for line in lines[1:]:
            name, _, value = line.partition(':')
            self.fields[name.strip().lower()] = value.strip()

    @property
    def json(self):
        return json.loads(self.body)


class Desk:
    """`countwright desk` on a folder, until close()."""

    def __init__(self, folder, *options, environment=None):
        self.process = subprocess.Popen([PROGRAM, 'desk', str(folder), '--no-browser', *options], text=True,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                        env={**os.environ, **(environment or {})})
        self.address = self.process.stdout.readline().strip()
        parts = urllib.parse.urlsplit(self.address)
        self.port = parts.port
        self.key = urllib.parse.parse_qs(parts.query).get('key', [''])[0]
        self.host = f'127.0.0.1:{self.port}'
        self.cookie = None

    def raw(self, data, timeout=20, half=False):
        """Send bytes, and read until the other side closes."""
        with socket.create_connection(('127.0.0.1', self.port), timeout=timeout) as link:
            received = b''
            try:
                link.sendall(data)
                if half:
                    link.shutdown(socket.SHUT_WR)
                while chunk := link.recv(65536):
                    received += chunk
            except (ConnectionError, TimeoutError):
                pass
            return Answer(received)

    def ask(self, method, path, fields=None, body=None, cookie=True, **more):
        """One request, as the page itself would send it but for what `fields` say; None leaves a field out."""
        all_fields = {'Host': self.host, 'Connection': 'close'}
        if method not in ('GET', 'HEAD'):
            all_fields['Origin'] = f'http://{self.host}'
        if cookie and self.cookie:
            all_fields['Cookie'] = self.cookie
        if isinstance(body, (dict, list)):
            body = json.dumps(body).encode()
            all_fields['Content-Type'] = 'application/json'
        if body is not None:
            all_fields['Content-Length'] = str(len(body))
        all_fields.update(fields or {})
        head = f'{method} {path} HTTP/1.1\r\n' + ''.join(
            f'{name}: {value}\r\n' for name, value in all_fields.items() if value is not None)
        return self.raw(head.encode() + b'\r\n' + (body or b''), **more)

    def enter(self):
        """Come in by the secret."""
        answer = self.ask('GET', f'/?key={self.key}')
        self.cookie = answer.fields.get('set-cookie', '').split(';')[0]
        return answer

    def close(self):
        """Stop it as Ctrl-C does. @return What it ended with."""
        if self.process.poll() is None:
            self.process.send_signal(2)
        self.process.communicate(timeout=30)
        return self.process.returncode
