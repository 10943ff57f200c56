# SPDX-License-Identifier: GPL-3.0-or-later
"""What a rehearsal pianist changes in a score: octaves in the left hand or the right, inner voices left out."""
from dataclasses import replace

import hands


def vary(notes, dice):
    """The notes as somebody would arrange them; most players leave them."""
    way = dice.choices(['as written', 'low octaves', 'high octaves', 'without inner', 'tune an octave up'],
                       [0.6, 0.15, 0.07, 0.1, 0.08])[0]
    if way == 'as written':
        return notes, way
    found = []
    for note, role in zip(notes, hands.roles(notes)):
        if way == 'without inner' and role == 'inner':
            continue
        if way == 'tune an octave up' and role == 'melody' and note.pitch < 86:
            note = replace(note, pitch=note.pitch + 12)
        found.append(note)
        if way == 'low octaves' and role == 'bass' and note.pitch >= 36:
            found.append(replace(note, pitch=note.pitch - 12))
        if way == 'high octaves' and role == 'melody' and note.pitch < 86:
            found.append(replace(note, pitch=note.pitch + 12))
    return sorted(found), way
