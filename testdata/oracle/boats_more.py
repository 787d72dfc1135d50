"""Makes the boat folders under more/, with the numbers which the program must come to: what to load, what ifs, turning back.

    python3 boats_more.py       writes more/01, more/02, ... anew: the boat folder, acts.json, expected.json

As boats.py, which it stands on, but with what these need: up to four water tanks, cans, sealed cans, tanks below the pick-up, a watermaker,
rationed water, alternates, ways home, prices, a season, chilled food, two stops of one name, and stores for about as long as the passage.
Everything in the folders is invented.
"""
import json
import re
import shutil
from pathlib import Path

import reckon
import reckon_more
from boats import Maker, deeds, rounded
from reckon import q

SEEDS = [4, 15, 43, 48, 62, 67, 82, 83, 101, 115, 121, 136, 145, 150, 169, 172, 190, 207, 211, 224]


class Fuller(Maker):
    """Writes a boat folder with all that what ifs, loading and turning back look at."""

    def boat(self):
        r = self.r
        self.ample = r.choice([1, 2, 4, 8])
        out = super().boat()
        waters = sum(t['holds'] == 'water' and not t['sealed'] for t in self.tanks)
        for i in range(waters, r.choice([1, 2, 3, 4])):
            out += self.tank(f'water {i + 1}', 'water', self.plenty * 120 * r.uniform(0.3, 1.6))
        if self.chance(0.15):
            out += self.twin()
        if self.chance(0.2):
            out += self.tank('more sealed cans', 'water', 10, sealed=True)
        if self.chance(0.3):
            out += self.empty(r.choice(['water', 'fuel', 'gas']))
        return out

    def tank(self, name, holds, size, **kind):
        return super().tank(name, holds, size * (1 if kind.get('sealed') else self.ample), **kind)

    def twin(self):
        """Two tanks that are counted on alike."""
        size = self.num(self.plenty * self.r.uniform(100, 400), 1)
        out = []
        for name in ('twin one', 'twin two'):
            out += ['[[tank]]', f'name = "{name}"', 'holds = "water"', f'capacity = "{size} L"', 'unusable = "2 L"',
                    f'level = "{size} L"', 'gauge_error = "3 %"']
            self.tanks.append({'name': name, 'holds': 'water', 'size': float(size), 'dips': None, 'sealed': False})
        return out

    def empty(self, holds):
        """One or two tanks below their pick-up."""
        out, unit = [], 'kg' if holds == 'gas' else 'L'
        for i in range(self.r.randint(1, 2)):
            size = round(self.r.uniform(2, 6) if holds == 'gas' else self.plenty * self.r.uniform(20, 200), 1)
            name, sump, level = f'low {holds} {i + 1}', self.r.choice([0.05, 0.1, 0.3]), self.r.choice([0, 0, 0.02, 0.1])
            out += ['[[tank]]', f'name = "{name}"', f'holds = "{holds}"', f'capacity = "{size} {unit}"', f'unusable = "{self.num(size * sump, 3)} {unit}"',
                    f'level = "{self.num(size * level, 3)} {unit}"', f'gauge_error = "{self.r.choice([0, 2, 5])} %"']
            out += ['can = true'] if self.chance(0.3) else []
            self.tanks.append({'name': name, 'holds': holds, 'size': size, 'dips': None, 'sealed': False})
        return out

    def rates(self):
        out = super().rates()
        if self.chance(0.6):
            out.insert(out.index('[gas]'), f'rationed = {self.volume(self.r.choice([1.5, 2, 2.5, 4]))}')
        return out

    def make_foods(self):
        super().make_foods()
        for f in self.foods.values():
            f['chilled'] = self.chance(0.3)

    def stores(self):
        self.crew, crew = self.crew * self.r.choice([1, 2, 4, 6]), self.crew
        out = []
        for text in super().stores():
            out.append(text)
            if text == 'chilled = true' and self.chance(0.6):
                out.append(f'keeps_warm = "{self.r.choice(["1 day", "3 days", "10 days", "1 month"])}"')
            if text.startswith('kcal') and self.chance(0.5):
                out.append(f'price = {self.num(self.r.uniform(0.5, 9))}')
        self.crew = crew
        return [f'packs = {min(99999, float(text.split()[2])):g}' if text.startswith('packs') else text for text in out]

    # ---- passage.toml

    def passage(self):
        out, leg, r = [], [], self.r
        for text in super().passage():
            if text == 'fill = ["water"]' and '[cases]' not in out:
                text = f'fill = {json.dumps([x + r.choice(["", "", "?"]) for x in ("water", "fuel", "food", "gas") if self.chance(0.7)])}'
                out += [text] + (['price = { fuel = 1.52, water = 0.02, gas = 4 }'] if self.chance(0.3) else [])
                out += [f'before = {self.depart.year}-12-31'] if self.chance(0.3) else []
                continue
            leg = [] if text == '[[leg]]' else leg + [text]
            out.append(text)
            if text.startswith('fill = '):
                out += self.more_of_leg(leg)
        return self.same_names(out)

    def more_of_leg(self, leg):
        r, out = self.r, []
        if self.chance(0.2):
            out.append('price = { fuel = 1.45 }')
        if self.chance(0.5):
            out.append(f'home = {{ sail = "{self.num(r.uniform(1.5, 6))} kn", power = {self.num(r.choice([0, 1, r.random()]))} }}')
        for i in range(r.choice([0, 0, 1, 1, 2])):
            out += ['[[leg.alternate]]', f'name = "{r.choice(["Refuge", "Port Other", "Bight"])} {i + 1}"',
                    f'after = "{self.num(r.choice([0, 0.5, r.random()]) * self.miles(leg), 1)} nm"', f'distance = "{self.num(r.uniform(5, 150), 1)} nm"']
        return out

    def miles(self, leg):
        """Miles of a leg, somewhat less, so that rounding leads to no point beyond it."""
        for text in leg:
            if text.startswith('distance'):
                return q(re.search('"(.*)"', text)[1]) - 0.1
            if text.startswith('route'):
                return reckon.great_circle(json.loads(text.split('=')[1])) - 0.1
        raise ValueError('a leg without a length')

    def same_names(self, lines):
        """Now and then two stops of one name: Ayby, Beeton, Ceeport, Beeton, ..."""
        if not self.chance(0.15):
            return lines
        return [text.replace('"Dee Bay"', '"Beeton"') if text.startswith(('from', 'to')) else text for text in lines]


def expect(folder, maker, acts):
    voyage = reckon_more.Voyage(folder, maker.now, acts)
    figures = reckon.Boat(folder, maker.now, acts).figures()
    figures |= {'what_if': reckon_more.what_ifs(voyage), 'load': reckon_more.load(voyage)}
    passage = {'turning': reckon_more.turning(voyage), 'on_or_back': reckon_more.on_or_back(voyage),
               'range': reckon_more.reach(voyage)}
    return {'at': maker.now.isoformat(), 'figures': rounded(figures), 'passage': rounded(passage)}


def make(seed, folder):
    maker = Fuller(seed).write(folder)
    acts = deeds(maker, folder)
    expected = expect(folder, maker, acts)
    for name, value in (('acts.json', acts), ('expected.json', expected)):
        (Path(folder) / name).write_text(json.dumps(value, indent=1) + '\n')
    return maker, acts, expected


if __name__ == '__main__':
    here = Path(__file__).parent / 'more'
    for number, seed in enumerate(SEEDS, 1):
        shutil.rmtree(here / f'{number:02}', ignore_errors=True)
        make(seed, here / f'{number:02}')
