# SPDX-License-Identifier: GPL-3.0-or-later
"""From played notes to a recording: instruments, FluidSynth, a room, and what phones and cables do to music."""
import os
import subprocess
import tempfile
import wave
from dataclasses import dataclass

import mido
import numpy as np
from scipy import signal

import noises

RATE = 22050
DRUMS = 9  # the channel
SOUND_FONTS = {
    'fluid': '/usr/share/sounds/sf2/FluidR3_GM.sf2',
    'tim': '/usr/share/sounds/sf2/TimGM6mb.sf2',
    'musescore': '/usr/share/sounds/sf3/MuseScore_General_Full.sf3',
}
STRINGS = {'high': [40, 48, 49], 'middle': [41, 48, 49], 'low': [42, 43, 48]}
WINDS = {'high': [73, 68, 71, 72], 'middle': [71, 69, 60], 'low': [70, 60, 57]}
ALL = {'high': [40, 48, 73, 68, 71, 56], 'middle': [41, 48, 71, 60, 69, 46, 45], 'low': [42, 43, 70, 48, 45, 58]}


@dataclass
class Part:
    program: int
    transpose: int
    channel: int
    late_s: float = 0.0  # a player far back is a little late, or early


def draw_instruments(dice):
    """A sound font and who plays; 'piano' for about two in three."""
    font = dice.choices(list(SOUND_FONTS), [0.45, 0.25, 0.3])[0]
    if dice.random() < 0.65:
        return {'font': font, 'kind': 'piano', 'program': dice.choices([0, 1, 2, 3, 4, 6], [60, 20, 5, 4, 3, 3])[0]}
    kind = dice.choices(['strings', 'winds', 'orchestra', 'solo', 'plucked', 'organ'], [30, 15, 35, 10, 6, 4])[0]
    return {'font': font, 'kind': kind, 'program': None}


def seats(notes, kind, dice):
    """Who plays each (role, voice): a list of Parts."""
    table = {'strings': STRINGS, 'winds': WINDS}.get(kind, ALL)
    keys = sorted({(n.role, n.voice) for n in notes if n.role != 'drum'})
    channel, found = 0, {}
    for key in keys:
        mean = np.mean([n.pitch for n in notes if (n.role, n.voice) == key])
        register = 'high' if mean > 67 else 'middle' if mean > 54 else 'low'
        parts = []
        for doubling in range(1 + (kind in ('strings', 'orchestra') and dice.random() < 0.4)):
            octave = 0 if not doubling else dice.choice([0, 12 if register == 'high' else -12])
            program = 43 if register == 'low' and octave else dice.choice(table[register])
            parts.append(Part(program, octave, channel % 16 if channel % 16 != 9 else 15,
                              dice.gauss(0, 0.006)))
            channel += 1
        found[key] = parts
    return found


def casting(notes, instruments, dice):
    kind = instruments['kind']
    if kind == 'piano':
        return {}, [Part(instruments['program'], 0, 0)]
    if kind == 'plucked':
        return {}, [Part(dice.choice([24, 25, 46, 46]), 0, 0)]
    if kind == 'organ':
        return {}, [Part(dice.choice([19, 20, 52]), 0, 0)]
    found = seats(notes, 'orchestra' if kind == 'solo' else kind, dice)
    if kind == 'solo':  # a melody instrument with piano
        solo = dice.choice([40, 42, 73, 68, 71, 60])
        voice = max({n.voice for n in notes}, key=lambda v: np.mean([n.pitch for n in notes if n.voice == v]))
        found = {key: [Part(solo, 0, 1)] if key == ('melody', voice) else [Part(0, 0, 0)] for key in found}
    instruments['programs'] = sorted({p.program for parts in found.values() for p in parts})
    return found, None


def midi_file(notes, pedal_s, instruments, lead_in_s, dice):
    """One tick is one millisecond."""
    seated, everyone = casting(notes, instruments, dice)
    bend = round(dice.gauss(0, 15) * 8192 / 200)  # of tuning, in cents; the wheel reaches 200
    events, used = [], {}
    for note in without_overlap(notes):
        for part in parts_of(note, everyone, seated, instruments['kind']):
            used[part.channel] = part.program
            pitch = min(max(note.pitch + part.transpose, 12), 115)
            start_s = note.start_s + lead_in_s + part.late_s
            events.append((start_s, 1, part.channel, pitch, note.velocity))
            events.append((max(note.end_s + lead_in_s, start_s + 0.02), 0, part.channel, pitch, 0))
    track = mido.MidiTrack([mido.MetaMessage('set_tempo', tempo=500000, time=0)])
    for channel, program in sorted(used.items()):
        track.append(mido.Message('program_change', channel=channel, program=program, time=0))
        pan = 64 if everyone else dice.randint(30, 98)
        track.append(mido.Message('control_change', channel=channel, control=10, value=pan, time=0))
        if not everyone:
            track.append(mido.Message('control_change', channel=channel, control=7, value=dice.randint(70, 127), time=0))
        if channel != DRUMS:
            track.append(mido.Message('pitchwheel', channel=channel, pitch=bend, time=0))
    for at in pedal_s:
        events.append((at + lead_in_s - 0.01, 2, 0, 64, 0))
        events.append((at + lead_in_s + 0.08, 3, 0, 64, 127))
    now = 0
    for at, kind, channel, key, value in sorted((max(round(e[0] * 1000), 0), *e[1:]) for e in events):
        if kind >= 2:
            message = mido.Message('control_change', channel=channel, control=key, value=value, time=at - now)
        else:
            name = 'note_on' if kind else 'note_off'
            message = mido.Message(name, channel=channel, note=key, velocity=value, time=at - now)
        track.append(message)
        now = at
    midi = mido.MidiFile(ticks_per_beat=500)
    midi.tracks.append(track)
    return midi


def parts_of(note, everyone, seated, kind):
    if note.role == 'drum':
        return [Part(0, 0, DRUMS)] if kind in ('orchestra', 'winds') else []
    return everyone or seated[note.role, note.voice]


def without_overlap(notes):
    """End each note before the same key is struck again: a late end would end the new one."""
    following, kept = {}, []
    for note in sorted(notes, key=lambda n: n.start_s, reverse=True):
        again = following.get((note.voice, note.pitch))
        if again is not None:
            note.end_s = min(note.end_s, again - 0.015)
        following[note.voice, note.pitch] = note.start_s
        if note.end_s > note.start_s + 0.01:
            kept.append(note)
    return kept[::-1]


def render(midi, font, reverb):
    """Mono samples at RATE. `reverb` is the size of FluidSynth's own room, 0 for none."""
    with tempfile.TemporaryDirectory(prefix='perform-') as folder:
        score, sound = os.path.join(folder, 'a.mid'), os.path.join(folder, 'a.wav')
        midi.save(score)
        command = ['fluidsynth', '-q', '-ni', '-R', '1' if reverb else '0', '-C', '0', '-g', '0.5', '-r', str(RATE),
                   '-o', 'synth.dynamic-sample-loading=1', '-o', f'synth.reverb.room-size={reverb:.2f}', '-F', sound,
                   SOUND_FONTS[font], score]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        with wave.open(sound) as file:
            samples = np.frombuffer(file.readframes(file.getnframes()), '<i2').astype(np.float64) / 32768
            return samples.reshape(-1, file.getnchannels()).mean(1)


def draw_damage(dice):
    """What is done to a recording; about one in three is left as it is."""
    damage = {'level_db': round(dice.uniform(-22, -1), 2)}
    if dice.random() < 0.35:
        return damage
    damage['noises'] = noises.draw_noises(dice)
    if dice.random() < 0.55:
        damage['room_s'] = round(dice.uniform(0.25, 2.2), 3)
        damage['room_db'] = round(dice.uniform(-16, 2), 2)
    if dice.random() < 0.4:
        damage['noise_db'] = round(dice.uniform(-52, -18), 2)
        damage['noise_colour'] = round(dice.uniform(0, 1.2), 2)
    if dice.random() < 0.12:
        damage['hum_hz'] = dice.choice([50, 60])
        damage['hum_db'] = round(dice.uniform(-45, -20), 2)
    if dice.random() < 0.2:
        damage['band_hz'] = [round(dice.uniform(60, 350)), round(dice.uniform(2800, 8000))]
    if dice.random() < 0.12:
        damage['clip_db'] = round(dice.uniform(1, 9), 2)
    return damage


def power(samples):
    return float(np.mean(samples ** 2)) + 1e-12


def damaged(samples, damage, dice, generator):
    x = samples / (np.abs(samples).max() + 1e-9)
    if damage.get('noises'):
        x = noises.with_noises(x, damage['noises'], RATE, dice, generator)
    if 'room_s' in damage:
        x = in_room(x, damage, generator)
    if 'band_hz' in damage:
        x = signal.sosfilt(signal.butter(3, damage['band_hz'], 'band', fs=RATE, output='sos'), x)
    if 'noise_db' in damage:
        spectrum = np.fft.rfft(generator.normal(size=len(x)))
        spectrum /= np.maximum(np.arange(len(spectrum)), 20.0) ** (damage['noise_colour'] / 2)
        noise = np.fft.irfft(spectrum, len(x))
        x = x + noise * np.sqrt(power(x) * 10 ** (damage['noise_db'] / 10) / power(noise))
    if 'hum_hz' in damage:
        t = np.arange(len(x)) / RATE
        hum = sum(np.sin(2 * np.pi * damage['hum_hz'] * k * t) / k for k in (1, 2, 3, 5))
        x = x + hum * np.sqrt(power(x) * 10 ** (damage['hum_db'] / 10) / power(hum))
    x = x / (np.abs(x).max() + 1e-9)
    if 'clip_db' in damage:
        x = np.clip(x * 10 ** (damage['clip_db'] / 20), -1, 1)
    return x * 10 ** (damage['level_db'] / 20)


def in_room(x, damage, generator):
    """Direct sound and a tail that falls by 60 dB in room_s, duller as it falls."""
    size = int(RATE * damage['room_s'])
    t = np.arange(size) / RATE
    tail = generator.normal(size=size) * 10 ** (-3 * t / damage['room_s'])
    tail = signal.sosfilt(signal.butter(1, generator.uniform(2000, 7000), fs=RATE, output='sos'), tail)
    tail[:int(RATE * generator.uniform(0.005, 0.03))] = 0
    tail *= np.sqrt(10 ** (damage['room_db'] / 10) / np.sum(tail ** 2))
    return x + signal.oaconvolve(x, tail)[:len(x)]


def write_wav(path, samples):
    with wave.open(str(path), 'wb') as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((np.clip(samples, -1, 1) * 32767).round().astype('<i2').tobytes())
