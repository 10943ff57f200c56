# SPDX-License-Identifier: GPL-3.0-or-later
"""The desk against those who should not get in: each request is sent over a socket, as it is written here."""
import os
import pathlib
import re
import shutil
import socket
import time
import unittest

from desk_client import Desk
from harness import CACHE, FIXTURES, Case, main

SECRET = 'nobody outside may read this'


class Guard(Case):
    """One desk for all requests but those that end it."""

    def setUp(self):
        super().setUp()
        self.place = pathlib.Path(self.folder) / 'pieces'
        self.place.mkdir()
        shutil.copy(FIXTURES / 'demo.txt', self.place)
        shutil.copy(FIXTURES / 'demo-rehearsal.ogg', self.place)
        outside = pathlib.Path(self.folder)
        (outside / 'secret.txt').write_text(SECRET)
        shutil.copy(FIXTURES / 'speech.ogg', outside / 'secret.ogg')
        os.symlink(outside / 'secret.txt', self.place / 'link.txt')
        os.symlink(outside / 'secret.ogg', self.place / 'link.ogg')
        os.symlink(outside, self.place / 'folder.ogg')
        os.mkfifo(self.place / 'pipe.ogg')
        (self.place / '.hidden.ogg').write_bytes(b'hidden')
        self.desk = Desk(self.place, environment={'XDG_CACHE_HOME': CACHE.name})
        self.addCleanup(self.desk.close)

    def enter(self):
        self.assertEqual(self.desk.enter().status, 303)

    def refused(self, answer, *statuses):
        self.assertIn(answer.status, statuses, answer.body[:300])
        self.assertNotIn(SECRET.encode(), answer.body)
        self.assertNotIn(b'balance side', answer.body)

    def test_a_stranger_gets_nothing(self):
        for method, path in (('GET', '/'), ('GET', '/shelf'), ('GET', '/events'), ('GET', '/page/desk.html'),
                             ('GET', '/recording?name=demo-rehearsal.ogg'), ('HEAD', '/shelf')):
            with self.subTest(path=path, method=method):
                self.refused(self.desk.ask(method, path), 401)
        for method, path in (('POST', '/stop'), ('POST', '/nowhere'), ('PUT', '/notes')):
            with self.subTest(path=path):
                self.refused(self.desk.ask(method, path, body={}), 401)
        self.assertIsNone(self.desk.process.poll())

    def test_a_wrong_secret_opens_nothing_and_does_not_use_up_the_right_one(self):
        for key in ('', '0' * 64, self.desk.key[:-1], self.desk.key + '0', self.desk.key.upper() + 'x', '%00', '*'):
            with self.subTest(key=key):
                self.refused(self.desk.ask('GET', f'/?key={key}'), 401, 400)
        self.enter()

    def test_the_secret_works_once(self):
        self.enter()
        self.refused(self.desk.ask('GET', f'/?key={self.desk.key}', cookie=False), 401)
        self.assertEqual(self.desk.ask('GET', f'/?key={self.desk.key}').status, 303)
        self.assertEqual(self.desk.ask('GET', '/').status, 200)

    def test_the_secret_is_good_for_the_page_alone(self):
        self.refused(self.desk.ask('GET', f'/shelf?key={self.desk.key}'), 401)
        self.enter()

    def test_wrong_cookies_open_nothing(self):
        self.enter()
        name, _, value = self.desk.cookie.partition('=')
        for cookie in (f'{name}=', f'{name}={value[:-1]}', f'{name}={value}0', f'{name}={value.swapcase()}x',
                       f'x{name}={value}', f'desk-1={value}', value, f'{name} ={value}', ';;;=;', f'{name}'):
            with self.subTest(cookie=cookie):
                self.refused(self.desk.ask('GET', '/shelf', {'Cookie': cookie}), 401)
        self.assertEqual(self.desk.ask('GET', '/shelf', {'Cookie': f'a=b; {name}={value}; c=d'}).status, 200)

    def test_many_strangers_are_told_to_wait_and_the_page_goes_on(self):
        self.enter()
        statuses = [self.desk.ask('GET', '/shelf', cookie=False).status for _ in range(40)]
        self.assertEqual(set(statuses), {401, 429})
        self.assertEqual(statuses[-1], 429)
        self.assertEqual(self.desk.ask('GET', '/shelf').status, 200)

    def test_another_name_of_this_machine_is_refused(self):
        self.enter()
        port = self.desk.port
        for host in ('evil.example', f'evil.example:{port}', f'localhost:{port}', '127.0.0.1', '127.0.0.1:1',
                     f'127.0.0.1:{port}.evil.example', f'127.0.0.1:{port} ', f'[::1]:{port}', f'0.0.0.0:{port}',
                     f'user@127.0.0.1:{port}', '', None):
            with self.subTest(host=host):
                answer = self.desk.ask('GET', '/shelf', {'Host': host})
                if host and host.strip() == self.desk.host:
                    continue  # blanks after a field are no part of it
                self.refused(answer, 421, 400)

    def test_other_sites_may_neither_read_nor_write(self):
        self.enter()
        for fields in ({'Origin': 'http://evil.example'}, {'Origin': 'null'}, {'Origin': f'https://{self.desk.host}'},
                       {'Origin': f'http://127.0.0.1:{self.desk.port + 1}'}, {'Origin': f'http://{self.desk.host}.evil'},
                       {'Sec-Fetch-Site': 'cross-site'}, {'Sec-Fetch-Site': 'same-site'},
                       {'Sec-Fetch-Site': 'nonsense'}):
            with self.subTest(fields=fields):
                self.refused(self.desk.ask('GET', '/shelf', fields), 403)
                self.refused(self.desk.ask('POST', '/stop', fields, body={}), 403)
        self.refused(self.desk.ask('POST', '/stop', {'Origin': None}, body={}), 403)
        self.refused(self.desk.ask('POST', '/stop', {'Sec-Fetch-Site': 'none'}, body={}), 403)
        self.assertIsNone(self.desk.process.poll())

    def test_forms_of_other_sites_have_the_wrong_type(self):
        self.enter()
        for kind in ('text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', '', None):
            with self.subTest(type=kind):
                self.refused(self.desk.ask('POST', '/stop', {'Content-Type': kind}, body=b'{}'), 415)

    def test_no_path_leads_out_of_the_folder(self):
        self.enter()
        for name in ('../secret.ogg', '..%2fsecret.ogg', '%2e%2e/secret.ogg', '..%252fsecret.ogg', '/etc/passwd',
                     f'{self.folder}/secret.ogg', './demo-rehearsal.ogg', 'x/../demo-rehearsal.ogg', '..', '.', '',
                     '.hidden.ogg', '.countwright/lock', 'link.ogg', 'folder.ogg', 'folder.ogg/secret.ogg',
                     'pipe.ogg', 'demo.txt', 'demo-rehearsal.ogg%00.txt', '%ff%fe.ogg', 'a%0d%0ab.ogg', 'C:secret.ogg',
                     '..%5csecret.ogg', 'x' * 300 + '.ogg', '%c0%ae%c0%ae%c0%afsecret.ogg', '/proc/self/environ'):
            with self.subTest(name=name):
                self.refused(self.desk.ask('GET', f'/recording?name={name}'), 404, 400)
        self.refused(self.desk.ask('GET', '/recording'), 404)

    def test_no_path_leads_out_of_the_page(self):
        self.enter()
        for path in ('/page/', '/page/../desk.c', '/page/%2e%2e/desk.c', '/page//etc/passwd', '/page/desk.html/x',
                     '/pagedesk.html', '//', '/..', '/%2e%2e/%2e%2e/etc/passwd', '/shelf/', '/SHELF', '/.countwright/lock',
                     '/demo.txt', 'http://evil.example/shelf'):
            with self.subTest(path=path):
                self.refused(self.desk.ask('GET', path), 404, 400)

    def test_links_and_hidden_files_are_on_no_list(self):
        self.enter()
        shelf = self.desk.ask('GET', '/shelf').json
        self.assertEqual([piece['name'] for piece in shelf['pieces']], ['demo.txt'])
        self.assertEqual(shelf['recordings'], ['demo-rehearsal.ogg'])

    def test_other_methods_are_refused(self):
        self.enter()
        for method in ('PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'CONNECT', 'PROPFIND', 'FOO'):
            with self.subTest(method=method):
                self.refused(self.desk.ask(method, '/shelf'), 405, 404, 400, 501)
        self.refused(self.desk.ask('GET', '/stop'), 405)
        self.assertIsNone(self.desk.process.poll())

    def test_content_that_is_too_long_or_without_length_is_refused_before_it_comes(self):
        self.enter()
        kind = {'Content-Type': 'application/json'}
        for length in ('1000000000', '99999999999999999999999', '-1', 'many'):
            with self.subTest(length=length):
                self.refused(self.desk.ask('POST', '/stop', {**kind, 'Content-Length': length}), 413, 400, 411, 0)
        self.refused(self.desk.ask('POST', '/stop', {**kind, 'Transfer-Encoding': 'chunked'}), 411, 400)
        self.refused(self.desk.ask('POST', '/stop', kind), 411)
        self.assertIsNone(self.desk.process.poll())

    def test_what_is_no_json_object_is_refused(self):
        self.enter()
        kind = {'Content-Type': 'application/json'}
        for body in (b'', b'{', b'[]', b'null', b'"x"', b'{"a":1,"a":2}', b'\xff\xfe', b'[' * 1000, b'{"a":1e999}'):
            with self.subTest(body=body[:20]):
                self.refused(self.desk.ask('PUT', '/notes', kind, body=body), 400, 404, 405)

    def test_what_is_no_http_is_refused(self):
        for data in (b'\x00' * 100, b'GET\r\n\r\n', b'GET / HTTP/9.9\r\n\r\n', b'\x16\x03\x01\x02\x00\x01\x00\x01\xfc',
                     b'GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n', b'GET /' + b'a' * 100000 + b' HTTP/1.1\r\n\r\n',
                     b'GET / HTTP/1.1\r\n' + b'X: ' + b'y' * 100000 + b'\r\n\r\n',
                     b'POST /stop HTTP/1.1\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\nhello',
                     b'GET / HTTP/1.1\r\nHost: x\r\n folded: y\r\n\r\n'):
            with self.subTest(data=data[:30]):
                self.refused(self.desk.raw(data, timeout=5, half=True), 0, 400, 413, 414, 421, 431, 405, 505)
        self.enter()
        self.assertEqual(self.desk.ask('GET', '/shelf').status, 200)

    def test_who_holds_connections_open_does_not_shut_others_out(self):
        self.enter()
        held = [socket.create_connection(('127.0.0.1', self.desk.port)) for _ in range(40)]
        for link in held:
            link.sendall(b'GET /shelf HTTP/1.1\r\nHo')
        self.assertEqual(self.desk.ask('GET', '/shelf').status, 200)
        for link in held:
            link.close()

    def test_every_answer_forbids_what_pages_of_others_could_do_with_it(self):
        self.enter()
        for path in ('/', '/shelf', '/nowhere', '/recording?name=demo-rehearsal.ogg'):
            with self.subTest(path=path):
                fields = self.desk.ask('GET', path).fields
                self.assertIn("default-src 'none'", fields['content-security-policy'])
                self.assertIn("frame-ancestors 'none'", fields['content-security-policy'])
                self.assertEqual(fields['x-content-type-options'], 'nosniff')
                self.assertEqual(fields['cross-origin-resource-policy'], 'same-origin')
                self.assertEqual(fields['referrer-policy'], 'no-referrer')
                self.assertNotIn('access-control-allow-origin', fields)
        cookie = self.desk.ask('GET', '/').fields.get('set-cookie', '')
        self.assertEqual(cookie, '')

    def test_the_cookie_is_kept_from_scripts_and_from_other_sites(self):
        cookie = self.desk.enter().fields['set-cookie']
        self.assertRegex(cookie, r'^desk-\d+=[0-9a-f]{64}; Path=/; Max-Age=\d+; HttpOnly; SameSite=Strict$')

    def test_only_this_machine_is_listened_to(self):
        listening = [line.split() for line in pathlib.Path('/proc/net/tcp').read_text().splitlines()[1:]]
        port = f'{self.desk.port:04X}'
        at = [row[1] for row in listening if row[1].endswith(':' + port) and row[3] == '0A']
        self.assertEqual(at, ['0100007F:' + port])
        others = pathlib.Path('/proc/net/tcp6')
        if others.exists():
            self.assertFalse(re.search(f':{port} 0{{32}}:', others.read_text()))

    def test_parts_of_recordings(self):
        """Ranges of RFC 9110, section 14; what is odd gives all of it, as section 14.2 allows."""
        self.enter()
        data = (FIXTURES / 'demo-rehearsal.ogg').read_bytes()
        n = len(data)
        for asked, first, last in (('bytes=0-9', 0, 9), ('bytes=10-', 10, n - 1), ('bytes=-5', n - 5, n - 1),
                                   (f'bytes=5-{10 * n}', 5, n - 1), (f'bytes=-{10 * n}', 0, n - 1),
                                   ('bytes=7-7', 7, 7)):
            with self.subTest(asked=asked):
                answer = self.desk.ask('GET', '/recording?name=demo-rehearsal.ogg', {'Range': asked})
                self.assertEqual(answer.status, 206)
                self.assertEqual(answer.fields['content-range'], f'bytes {first}-{last}/{n}')
                self.assertEqual(answer.body, data[first:last + 1])
        for asked in (f'bytes={n}-', f'bytes={n + 5}-{n + 9}', 'bytes=-0'):
            with self.subTest(asked=asked):
                answer = self.desk.ask('GET', '/recording?name=demo-rehearsal.ogg', {'Range': asked})
                self.assertEqual((answer.status, answer.fields['content-range']), (416, f'bytes */{n}'))
        for asked in ('bytes=9-5', 'bytes=', 'bytes=a-b', 'bytes=0-1,5-6', 'lines=0-1', 'bytes=-', 'bytes=--1',
                      'bytes=99999999999999999999-'):
            with self.subTest(asked=asked):
                answer = self.desk.ask('GET', '/recording?name=demo-rehearsal.ogg', {'Range': asked})
                self.assertEqual((answer.status, answer.body), (200, data))


class Life(Case):
    """How a desk begins and ends."""

    def test_a_second_desk_on_the_folder_is_told(self):
        first = Desk(self.folder)
        self.addCleanup(first.close)
        self.fails('desk', self.folder, '--no-browser', message=f"countwright: '{self.folder}': a desk is open on this "
                   f"folder already: http://127.0.0.1:{first.port}/\n")

    def test_a_desk_that_was_killed_leaves_the_folder_free(self):
        first = Desk(self.folder)
        first.process.kill()
        first.process.communicate()
        second = Desk(self.folder)
        self.assertTrue(second.port)
        second.close()

    def test_it_stops_at_once_with_tabs_open(self):
        for number in (2, 15):
            desk = Desk(self.folder)
            desk.enter()
            links = []
            for _ in range(3):
                link = socket.create_connection(('127.0.0.1', desk.port))
                link.sendall(f'GET /events HTTP/1.1\r\nHost: {desk.host}\r\nCookie: {desk.cookie}\r\n\r\n'.encode())
                self.assertIn(b'200', link.recv(100))
                links.append(link)
            begun = time.monotonic()
            desk.process.send_signal(number)
            _, said = desk.process.communicate(timeout=20)
            self.assertLess(time.monotonic() - begun, 10)
            self.assertEqual(desk.process.returncode, 0, said)
            for link in links:
                link.close()

    def test_the_page_can_stop_it(self):
        desk = Desk(self.folder)
        desk.enter()
        self.assertEqual(desk.ask('POST', '/stop', body={}).status, 200)
        desk.process.communicate(timeout=20)
        self.assertEqual(desk.process.returncode, 0)

    def test_what_is_no_folder_is_told(self):
        file = pathlib.Path(self.folder) / 'file'
        file.write_text('')
        self.assertEqual(self.run_it('desk', file, '--no-browser')[0], 1)
        self.assertEqual(self.run_it('desk', file / 'x', '--no-browser')[0], 1)

    def test_a_port_that_is_taken_is_told(self):
        with socket.socket() as link:
            link.bind(('127.0.0.1', 0))
            link.listen()
            status, _, _ = self.run_it('desk', self.folder, '--no-browser', '--port', link.getsockname()[1])
            self.assertEqual(status, 1)

    def test_more_tabs_than_there_is_room_for_are_told(self):
        desk = Desk(self.folder)
        self.addCleanup(desk.close)
        desk.enter()
        links = []
        for _ in range(16):
            link = socket.create_connection(('127.0.0.1', desk.port))
            link.sendall(f'GET /events HTTP/1.1\r\nHost: {desk.host}\r\nCookie: {desk.cookie}\r\n\r\n'.encode())
            self.assertIn(b'200', link.recv(100))
            links.append(link)
        self.assertEqual(desk.ask('GET', '/events').status, 503)
        for link in links:
            link.close()


if __name__ == '__main__':
    main()
