"""Makes the boat folders beside this file, with the numbers which the program must come to.

    python3 boats.py            writes 01, 02, ... anew: the boat folder, acts.json, expected.json

The folders are random but always the same: each comes from a number in SEEDS. Everything in them is invented; most of these boats should not
put to sea. acts.json is what was done aboard before, in the words of the command line; expected.json holds the moment and what reckon.py,
which knows nothing of the Go code, makes of both. Standard library only, Python 3.11 or later.
"""
import datetime as dt
import json
import math
import random
import shutil
from pathlib import Path

from reckon import Boat

SEEDS = [7, 181, 183, 264, 352, 356, 403, 733, 767, 825, 845, 849, 907, 936, 938, 945, 1306, 1356, 1479, 1496]
VOLUMES = {'L': 1, 'US gal': 3.785411784, 'imp gal': 4.54609, 'mL': 1e-3}
WEIGHTS = {'kg': 1, 'g': 1e-3, 'lb': 0.45359237}


class Maker:
    """Writes one boat folder."""

    def __init__(self, seed):
        self.r = random.Random(seed)
        self.us = self.r.random() < 0.25
        self.tidy = self.r.random() < 0.3                  # round numbers: levels on the reserve, days on the 90 %
        if self.tidy:
            self.us, uniform = False, self.r.uniform
            self.r.uniform = lambda a, b: next((x for x in (round(uniform(a, b)), round(uniform(a, b), 1)) if a <= x <= b), b)

    def chance(self, p):
        return self.r.random() < p

    def num(self, x, places=2):
        text = f'{x:.{places}f}'
        return text.rstrip('0').rstrip('.') if '.' in text else text

    def volume(self, litres, rate=''):
        unit = self.r.choice(['US gal', 'imp gal', 'L', 'mL']) if self.us else 'L'
        if rate and unit == 'mL':
            unit = 'L'
        return f'"{self.num(litres / VOLUMES[unit], 0 if unit == "mL" else 3)} {unit}{rate}"'

    def weight(self, kg, places=3):
        unit = self.r.choice(['lb', 'kg', 'g']) if self.us else self.r.choice(['kg', 'g'])
        return f'"{self.num(kg / WEIGHTS[unit], places if unit != "g" else 0)} {unit}"'

    def span(self, hours):
        unit = self.r.choice(['h', 'min', 'days'])
        return f'"{self.num(hours / {"h": 1, "min": 1 / 60, "days": 24}[unit], 3 if unit != "min" else 0)} {unit}"'

    # ---- boat.toml

    def boat(self):
        r, out = self.r, ['name = "Test Boat"']
        self.plenty = r.choice([1, 1, 2, 4])
        out.append('units = "us"' if self.us else 'units = "metric"')
        self.has_curve = self.chance(0.75)
        rated = r.choice([2800, 3000, 3600])
        self.rows = []
        out += ['[engine]', f'rated_rpm = {rated}']
        if not self.has_curve or self.chance(0.5):
            out.append(f'rated_power = "{r.choice(["28 kW", "38 hp", "30 PS", "21.5 kW", "6 kW"])}"')
        if self.has_curve:
            rpm, speed, burn = r.choice([1000, 1200]), r.uniform(3.5, 4.5), r.uniform(0.6, 1.2)
            for _ in range(r.randint(2, 4)):
                self.rows.append((rpm, round(speed, 2), round(burn, 2)))
                rpm, speed, burn = rpm + r.choice([300, 400, 500]) , speed + r.uniform(0.2, 0.9), burn + r.uniform(0.2, 1.5)
            self.cruise = r.randint(self.rows[0][0], self.rows[-1][0])
            if self.chance(0.2):
                self.cruise = self.rows[r.randrange(len(self.rows))][0]
        else:
            self.cruise = r.randint(1400, rated)
        out += [f'cruise_rpm = {self.cruise}', 'coolant_max = "95 °C"', 'hours = 1000.0',
                f'charging_burn = {self.volume(r.uniform(0.8, 1.8), "/h")}', f'charging = {self.span(r.choice([0, 0.5, 1, 1.5, 2.25]))}']
        for rpm, speed, burn in self.rows:
            out += ['[[engine.curve]]', f'rpm = {rpm}', f'speed = "{speed} kn"', f'burn = {self.volume(burn, "/h")}', 'coolant = "80 °C"']
        self.tanks = []
        for holds, count, size in (('water', r.randint(1, 3), self.plenty * 180), ('fuel', r.randint(1, 3), self.plenty * 150), ('gas', r.choice([0, 1, 1, 2, 2]), 5)):
            for i in range(count):
                out += self.tank(f'{holds} {i + 1}', holds, size * r.uniform(0.3, 1.6), first=i == 0)
        if self.chance(0.3):
            out += self.tank('sealed cans', 'water', 20, sealed=True)
        if self.chance(0.4):
            out += ['[watermaker]', f'output = {self.volume(r.choice([3, 6, 12, 30]), "/h")}', f'run = {self.span(r.choice([0.5, 1, 2, 3]))}']
            if self.chance(0.6):
                out.append('needs_engine = true')
        if self.chance(0.5):
            out += ['[heater]', f'burn = {self.volume(r.uniform(0.1, 0.4), "/h")}', f'run = {self.span(r.choice([2, 6, 10]))}']
        return out

    def tank(self, name, holds, size, sealed=False, first=False):
        r = self.r
        write = (lambda x: f'"{self.num(x, 3)} kg"') if holds == 'gas' else (lambda x: f'"{self.num(x, 1)} L"')
        if self.us:
            write = self.weight if holds == 'gas' else self.volume
        size = round(size, 1)
        unusable = r.choice([0, 0.02, 0.05]) * size
        dips = None
        if holds != 'gas' and self.chance(0.5):
            dips = [(0, 0.0)]
            for i in range(r.randint(1, 3)):
                dips.append((dips[-1][0] + r.randint(60, 200), 0))
            shares = sorted(r.uniform(0.1, 0.9) for _ in dips[2:]) + [1]
            dips = [(0, '"0 L"')] + [(d, f'CAP' if s == 1 else write(s * size)) for (d, _), s in zip(dips[1:], shares)]
        capacity = write(size)
        level = r.choice(['share', 'volume', 'volume', 'dip', 'full', 'low'])
        gauge = r.choice([0, 2, 5, 10])
        text = {'share': f'"{r.randint(0, 100)} %"', 'volume': write(size * r.uniform(0.05, 0.99)), 'full': capacity, 'low': write(size * 0.03)}.get(level)
        if level == 'dip':
            text = f'"{r.randint(0, dips[-1][0])} mm"' if dips else '"77.5 %"'
        out = ['[[tank]]', f'name = "{name}"', f'holds = "{holds}"', f'capacity = {capacity}', f'unusable = {write(unusable)}', f'level = {text}', f'gauge_error = "{gauge} %"']
        if self.chance(0.7):
            out.append(f'dip_error = "{r.choice([1, 2, 3])} %"')
        if sealed:
            out.append('sealed = true')
        elif not first and self.chance(0.3):
            out.append('can = true')
        if dips:
            out.append('dip = [ ' + ', '.join(f'["{d} mm", {capacity if v == "CAP" else v}]' for d, v in dips) + ' ]')
        self.tanks.append({'name': name, 'holds': holds, 'size': size, 'dips': dips, 'sealed': sealed})
        return out

    # ---- rates.toml and stores.toml

    def reserve(self, thing, top):
        r, out = self.r, [f'[reserve.{thing}]']
        if self.chance(0.15):
            return out + ['none = true']
        if thing == 'food':
            return out + [f'days = {r.choice([1, 3, 5, 2.5])}']
        kinds = [k for k in ('days', 'need', 'capacity', 'amount') if self.chance(0.4)] or ['need']
        amount = f'"{self.num(r.uniform(0.01, 0.2) * top, 3)} kg"' if thing == 'gas' else self.volume(r.uniform(0.01, 0.2) * top)
        lines = {'days': f'days = {r.choice([1, 2, 5, 0.5])}', 'need': f'share_of_need = {r.choice([0.25, 0.3333, 0.5])}',
                 'capacity': f'share_of_capacity = {r.choice([0.1, 0.25, 0.3333])}', 'amount': f'amount = {amount}'}
        return out + [lines[k] for k in kinds]

    def rates(self):
        r = self.r
        out = ['[water]', f'drinking = {self.volume(r.uniform(2, 4))}', f'cooking = {self.volume(r.uniform(0.5, 2))}']
        if self.chance(0.7):
            out.append(f'washing = {self.volume(r.uniform(0, 3))}')
        if self.chance(0.7):
            out.append(f'boat = {self.volume(r.uniform(0, 3))}')
        if self.chance(0.6):
            out.append(f'hot_weather = {r.choice([1, 1.5, 1.8, 2.0])}')
        out += ['[gas]', f'boat = "{self.num(r.choice([0, r.uniform(0, 0.3), r.uniform(0, 0.3)]), 3)} kg"', f'person = "{self.num(r.choice([0, 0, 0.04]), 3)} kg"']
        self.energy = r.choice([2000, 2500, 3100])
        out += ['[food]', f'energy = "{self.energy} kcal"']
        self.foods, self.rations = {}, []
        self.no_food = self.chance(0.05)
        if not self.no_food:
            self.make_foods()
            for name, grams in self.rations:
                out += ['[[ration]]', f'food = "{name}"', f'each = "{grams} g"']
        for thing, top in (('water', 200), ('fuel', 150), ('gas', 3)):
            out += self.reserve(thing, top)
        return out + (['[reserve.food]', 'none = true'] if self.no_food else self.reserve('food', 0))

    def make_foods(self):
        r = self.r
        names = [f'food {c}' for c in 'abcdefgh'[:r.randint(3, 8)]]
        for name in names:
            f = {'pack': r.choice([120, 250, 400, 500, 1000, 2000]), 'kcal': r.choice([25, 50, 100, 200, 400, 500] if self.tidy else [25, 77, 198, 266, 365, 371, 496, 598, 884])}
            f['refuse'] = r.choice([0, 0, 0, 20, 25])
            if self.chance(0.7):
                f['keeps'] = r.choice(['3 days', '10 days', '30 days', '2 months', '12 months'])
            if self.chance(0.5):
                f['grace'] = r.choice(['3 days', '1 months', '3 months'])
            if self.chance(0.3):
                f['instead'] = r.choice([n for n in names if n != name])
            f['chilled'] = self.chance(0.1)
            f['cook'] = self.chance(0.5)
            self.foods[name] = f
        eaten = r.sample(names, r.randint(2, len(names)))
        weights = [r.uniform(0.3, 1) for _ in eaten]
        total = (r.choice([0.9, 1, 1.1]) if self.tidy else r.uniform(0.91, 1.25)) * self.energy
        for name, w in zip(eaten, weights):
            grams = max(1, math.ceil(total * w / sum(weights) * 100 / self.foods[name]['kcal']))
            self.rations.append((name, grams))

    def stores(self):
        r, out = self.r, []
        for name, f in self.foods.items():
            out += ['[[food]]', f'name = "{name}"', f'pack = "{f["pack"]} g"', f'kcal = {f["kcal"]}']
            if f['refuse']:
                out.append(f'refuse = "{f["refuse"]} %"')
            for key in ('keeps', 'grace', 'instead'):
                if key in f:
                    out.append(f'{key} = "{f[key]}"')
            out += ['chilled = true'] if f['chilled'] else []
            out += ['cook = true'] if f['cook'] else []
        self.lots, day = [], self.depart.date()
        long = r.choice([r.uniform(2, 30), r.uniform(30, 90)])
        for name, f in self.foods.items():
            each = dict(self.rations).get(name, 100) * self.crew
            for i in range(r.choice([0, 1, 1, 1, 2, 3])):
                lot = {'food': name, 'packs': max(0.5, round(each * r.uniform(0.2, 1) * long / f['pack'] * r.choice([1, 1, 2]) * 2) / 2), 'place': f'locker {i + 1}'}
                kinds = ['best_before', 'use_by', 'none'] + (['bought'] if 'keeps' in f else [])
                kind = r.choice(kinds)
                if kind == 'bought':
                    lot['bought'] = day - dt.timedelta(days=r.randint(0, 12))
                elif kind != 'none':
                    lot[kind] = day + dt.timedelta(days=r.choice([r.randint(-10, 15), r.randint(10, 100), r.randint(2, 6)]))
                self.lots.append(lot)
                out += ['[[lot]]', f'food = "{name}"', f'packs = {lot["packs"]:g}']
                out += [f'{k} = {lot[k]}' for k in ('best_before', 'use_by', 'bought') if k in lot] + [f'place = "{lot["place"]}"']
        return out

    # ---- passage.toml

    def passage(self):
        r = self.r
        zone = dt.timezone(dt.timedelta(hours=r.choice([13, -4, 0, 5.5, -9.5])))
        self.depart = dt.datetime(2026, r.randint(1, 12), r.randint(1, 28), r.randint(0, 23), r.choice([0, 30, 17]), tzinfo=zone)
        self.now = self.depart + r.choice([-1, -1, -1, 1]) * dt.timedelta(hours=r.choice([0, 5, 30, 120]), minutes=r.randint(0, 59))
        self.now = self.now.astimezone(r.choice([zone, zone, dt.timezone.utc, dt.timezone(dt.timedelta(hours=-8))]))
        self.crew = r.choice([1, 2, 2, 3, 4, 6])
        climate = r.choice(['hot', 'temperate', 'cold'])
        out = ['name = "Test Passage"', f'depart = {self.depart.isoformat()}', f'crew = {self.crew}', f'climate = "{climate}"',
               f'kind = "{r.choice(["coastal", "offshore", "offshore", "shift"])}"', 'fill = ["water"]', '[cases]']
        base = r.uniform(0.05, 0.5)
        for name, k, p in (('quick', 1.15, 0.5), ('expected', 1, 1), ('slow', 0.65, 2)):
            share = min(1, base * p) if self.chance(0.85) else r.choice([0, 1, r.random()])
            row = f'speed = {self.num(k * r.uniform(0.9, 1.1))}, power = {self.num(share)}'
            if self.chance(0.4):
                row += f', motor = {self.num(r.uniform(0.7, 1))}'
            if name == 'slow' and self.chance(0.6) or self.chance(0.15):
                row += f', wait = {self.span(r.choice([6, 24, 36, 48]))}'
            out.append(f'{name} = {{ {row} }}')
        hard = self.chance(0.15)
        count = r.randint(1, 4)
        places = ['Ayby', 'Beeton', 'Ceeport', 'Dee Bay', 'Eeness'][:count + 1]
        for i, (start, to) in enumerate(zip(places, places[1:])):
            out += ['[[leg]]', f'from = "{start}"', f'to = "{to}"']
            if self.chance(0.2):
                lat, lon = r.uniform(-50, 50), r.choice([r.uniform(-180, 180), 179.2])
                points = [(round(lat, 4), round(lon, 4))]
                for _ in range(r.randint(1, 3)):
                    lat, lon = lat + r.choice([-1, 1]) * r.uniform(0.2, 3), lon + r.uniform(-4, 4)
                    points.append((round(lat, 4), round((lon + 180) % 360 - 180, 4)))
                out.append('route = [' + ', '.join(f'[{a}, {b}]' for a, b in points) + ']')
            else:
                out.append(f'distance = "{self.num(r.choice([r.uniform(5, 60), r.uniform(50, 200), r.uniform(50, 400), r.uniform(300, 900)]), 1)} nm"')
            out.append(f'sail = "{self.num(r.uniform(3.5, 6.5))} kn"')
            if self.chance(0.25):
                out.append('as_is = true')
            if self.chance(0.5):
                rpm = r.randint(self.rows[0][0], self.rows[-1][0]) if self.has_curve else r.randint(1000, 2800)
                out.append(f'rpm = {rpm}')
            if not self.has_curve:
                out.append(f'power = "{self.num(r.uniform(4, 6.5))} kn"')
            if self.chance(0.6):
                out.append(f'current = "{self.num(r.uniform(-3.6, -1.8) if hard else r.uniform(-1, 1))} kn"')
            if self.chance(0.6):
                out.append(f'stay = {self.span(r.choice([0, 12, 24, 48, 100]))}')
            gives = [x + r.choice(['', '', '?']) for x in ('water', 'fuel', 'food', 'gas') if self.chance(0.35)]
            out.append(f'fill = {json.dumps(gives)}')
        return out

    def rounds(self):
        return ['name = "Before departure"', 'for = "sign"', '[[section]]', 'name = "Engine"', 'mode = "look then confirm"', 'done = "Engine looked at"',
                '[[section.check]]', 'id = "oil"', 'ask = "Oil"', 'right = "between the marks"', 'critical = true']

    def write(self, folder):
        folder = Path(folder)
        (folder / 'rounds').mkdir(parents=True, exist_ok=True)
        files = {'boat.toml': self.boat(), 'passage.toml': self.passage(), 'rates.toml': self.rates()}
        if not self.no_food:
            files['stores.toml'] = self.stores()
        if self.chance(0.3):
            files['upkeep.toml'] = ['[[service]]', 'name = "scrub the bottom"', 'every_months = 6', 'resets = "fouling"',
                                    f'last = {{ date = {(self.now - dt.timedelta(days=self.r.randint(0, 40))).date()} }}']
        files['rounds/departure.toml'] = self.rounds()
        for name, lines in files.items():
            (folder / name).write_text('\n'.join(lines) + '\n', encoding='utf-8')
        return self


class Deeds:
    """Random acts on a folder: soundings, fills, counts of single lots and readings, in the order of their times, none after now."""

    def __init__(self, maker, count, kinds=('sound', 'fill', 'count', 'reading')):
        self.m, self.r = maker, maker.r
        span = self.r.choice([6, 30, 30, 100, 600])
        times = sorted(self.r.uniform(0, span) for _ in range(count))
        self.acts, self.hours = [], 1000.0
        for back in reversed(times):
            at = maker.now - dt.timedelta(hours=back)
            args = getattr(self, self.r.choice(kinds))()
            if args:
                zone = self.r.choice([at.tzinfo, at.tzinfo, dt.timezone.utc, dt.timezone(dt.timedelta(hours=-11))])
                self.acts.append({'at': at.replace(microsecond=0).astimezone(zone).isoformat(), 'args': args})

    def amount(self, tank, share):
        return f'{self.m.num(tank["size"] * share, 2)} {"kg" if tank["holds"] == "gas" else "L"}'

    def sound(self):
        t, r = self.r.choice(self.m.tanks), self.r
        kind = r.choice(['share', 'volume', 'dip', 'full'])
        if kind == 'dip' and t['dips']:
            return ['sound', t['name'], f'{r.randint(0, t["dips"][-1][0])} mm']
        return ['sound', t['name'], {'share': f'{r.randint(0, 100)} %', 'volume': self.amount(t, r.uniform(0, 0.99))}.get(kind, 'full')]

    def fill(self):
        t, r = self.r.choice(self.m.tanks), self.r
        text = r.choice(['full', self.amount(t, r.uniform(0.01, 0.3)), self.amount(t, r.uniform(0.01, 0.3))])
        others = [x for x in self.m.tanks if x['holds'] == t['holds'] and x is not t]
        if others and r.random() < 0.4:
            return ['fill', t['name'], text, '--from', r.choice(others)['name']]
        return ['fill', t['name'], text]

    def count(self):
        lots = self.m.lots if not self.m.no_food else []
        if not lots:
            return None
        lot, r = self.r.choice(lots), self.r
        args = ['count', lot['food'], f'{max(0, round(lot["packs"] * r.uniform(0, 1.3) * 2) / 2):g}']
        way = r.random()
        keys = () if way < 0.12 else ('best_before', 'use_by', 'bought') if way < 0.2 else ('place',) if way < 0.28 else ('best_before', 'use_by', 'bought', 'place')
        if 0.28 <= way < 0.36:
            lot = dict(lot, place='a new locker')
        for key in keys:
            if key in lot:
                args += ['--' + key.replace('_', '-'), str(lot[key])]
        return args

    def reading(self):
        r, args = self.r, ['reading']
        if r.random() < 0.6:
            self.hours += r.uniform(0, 8)
            args.append(f'hours={self.hours:.1f}')
        rpm = r.randint(self.m.rows[0][0] - 50, self.m.rows[-1][0] + 100) if self.m.rows else r.randint(1000, 2600)
        args.append(f'rpm={rpm}')
        if r.random() < 0.7:
            args.append(f'speed={r.uniform(3.5, 6.5):.2f}kn')
            args += [f'under_way={r.choice(["yes", "yes", "yes", "no"])}', f'sails={r.choice(["down", "down", "down", "up"])}']
        if r.random() < 0.05 and len(args) > 3:
            args.pop(r.randrange(2, len(args)))
        return args

    def correct(self):
        return ['correct', str(self.r.randint(1, len(self.acts))), 'misread'] if self.acts else None


def possible(boat, act):
    """Says whether the program takes an act: it moves no more between tanks than is known to be there, and not an unknown amount."""
    if act['args'][0] != 'fill' or '--from' not in act['args']:
        return True
    giver = boat.tank(act['args'][4])
    return act['args'][2] != 'full' and giver.level >= float(act['args'][2].split()[0])


def deeds(maker, folder):
    """Up to twelve acts on the folder, none on some."""
    acts, r = [], maker.r
    for act in Deeds(maker, r.choice([0, 4, 8, 12]), ('sound', 'fill', 'count', 'count', 'reading', 'correct')).acts:
        if possible(Boat(folder, maker.now, acts), act) and not (act['args'][0] == 'correct' and int(act['args'][1]) > len(acts)):
            acts.append(act)
    return acts


def rounded(value):
    """Nine decimals are enough for a millionth part, and the same on every machine."""
    if isinstance(value, float):
        return round(value, 9)
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    return [rounded(v) for v in value] if isinstance(value, list) else value


def make(seed, folder):
    maker = Maker(seed).write(folder)
    acts = deeds(maker, folder)
    expected = {'at': maker.now.isoformat(), 'figures': rounded(Boat(folder, maker.now, acts).figures())}
    for name, value in (('acts.json', acts), ('expected.json', expected)):
        (Path(folder) / name).write_text(json.dumps(value, indent=1) + '\n')
    return maker, acts, expected


if __name__ == '__main__':
    here = Path(__file__).parent
    for number, seed in enumerate(SEEDS, 1):
        shutil.rmtree(here / f'{number:02}', ignore_errors=True)
        make(seed, here / f'{number:02}')
