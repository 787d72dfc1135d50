"""The numbers of a boat folder, reckoned a second time from the words of the design and not from the Go code: the two check each other.

    python3 reckon.py DIR TIME [ACTS.json]     prints cases, resources, verdict and fouling as JSON

ACTS.json: [{"at": "2026-06-01T08:00:00+13:00", "args": ["sound", "port water", "62 %"]}, ...], in the order of their times.
Time, fuel, water, what is available, stretches, hard case, reserve, endurance, food. Not reckoned: the gate, what ifs, loading, turning back,
daylight. Standard library only, Python 3.11 or later.

Where the words leave a choice, this is taken: of tanks sounded at different times the earliest counts for all of what is used before departure;
the heater burns before departure too; an hour-meter that was never read stands at the opening hours; rations are taken off continuously from a
count to the departure; more filled in than there is room for is over the side; a reading that does not say it was not under way was.
"""
import datetime as dt
import json
import math
import re
import sys
import tomllib
from pathlib import Path

DAY = 24.0
EPS = 1e-9
CASES = ('quick', 'expected', 'slow')
THINGS = ('water', 'fuel', 'food', 'gas')

# Litres, kilograms, knots, miles, hours, millimetres, kilowatts, kcal, shares. Source of the factors: NIST SP 811, B.8.
UNITS = {
    'L': 1, 'mL': 1e-3, 'US gal': 3.785411784, 'imp gal': 4.54609,
    'L/h': 1, 'US gal/h': 3.785411784, 'imp gal/h': 4.54609,
    'kg': 1, 'g': 1e-3, 'lb': 0.45359237, 'kn': 1, 'nm': 1,
    'h': 1, 'min': 1 / 60, 'day': 24, 'days': 24,
    'mm': 1, 'cm': 10, 'm': 1000, 'ft': 304.8, 'in': 25.4,
    'kW': 1, 'hp': 0.74569987158227022, 'PS': 0.73549875, 'kcal': 1, '%': 0.01,
}
LENGTHS = ('mm', 'cm', 'm', 'ft', 'in')


def split(text):
    """Number and unit of a quantity."""
    number, unit = re.fullmatch(r'\s*([-+]?[0-9.]+)\s*(.*?)\s*', text).groups()
    return float(number), unit


def q(text, default=0.0):
    """A quantity in our units; `default` where the key is left out."""
    if text is None:
        return default
    number, unit = split(text)
    return number * UNITS[unit]


def later(day, span):
    """The date `span` ("5 days", "18 months") after day: the same day of the month, or the month's last."""
    number, unit = split(span)
    if unit.startswith('day'):
        return day + dt.timedelta(days=number)
    years, month = divmod(day.month - 1 + int(number), 12)
    year, month = day.year + years, month + 1
    last = (dt.date(year + month // 12, month % 12 + 1, 1) - dt.timedelta(days=1)).day
    return dt.date(year, month, min(day.day, last))


def line(rows, x):
    """Linear between the rows (x, y); None outside them."""
    for (x0, y0), (x1, y1) in zip(rows, rows[1:]):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return None


def great_circle(points):
    """Miles along the points, 1' of a great circle = 1 nm; haversine."""
    total = 0.0
    for (la0, lo0), (la1, lo1) in zip(points, points[1:]):
        a0, a1 = math.radians(la0), math.radians(la1)
        h = math.sin((a1 - a0) / 2) ** 2 + math.cos(a0) * math.cos(a1) * math.sin(math.radians(lo1 - lo0) / 2) ** 2
        total += math.degrees(2 * math.asin(min(1, math.sqrt(h)))) * 60
    return total


class Tank:
    def __init__(self, table):
        self.table, self.name, self.holds = table, table['name'], table['holds']
        self.capacity, self.unusable = q(table['capacity']), q(table['unusable'])
        self.planned = not table.get('sealed', False)
        self.set(table['level'])
        self.at = None                                     # an opening level is taken as of departure

    def set(self, text):
        """A level as read, with its error: none at the brim, the dip's for a dip, else the gauge's."""
        self.read = 'gauge_error'
        if text == 'full':
            self.level = self.capacity
        elif text.endswith('%'):
            self.level = q(text) * self.capacity
        elif split(text)[1] in LENGTHS:
            self.level = line([(q(d), q(v)) for d, v in self.table['dip']], q(text))
            self.read = 'dip_error'
        else:
            self.level = q(text)
        self.brim()

    def brim(self):
        """The error of the level as it is now: none at the brim; below it that of how the level was read."""
        self.error = 0.0 if self.level >= self.capacity - EPS else q(self.table.get(self.read))

    def counted(self):
        return max(0.0, self.level - self.error * self.capacity - self.unusable)

    def usable(self):
        return self.capacity - self.unusable


class Lot:
    def __init__(self, table, food, number):
        self.food, self.number = table['food'], number
        self.key = tuple(str(table[k]) if table.get(k) else None for k in ('best_before', 'use_by', 'bought', 'place'))
        self.grams = table['packs'] * pack(food)
        self.date = table.get('use_by') or table.get('best_before')
        if 'bought' in table:
            self.date = later(table['bought'], food['keeps'])
        self.end = self.date
        if 'best_before' in table and 'grace' in food:
            self.end = later(self.date, food['grace'])
        self.date, self.end = self.date or dt.date.max, self.end or dt.date.max


def pack(food):
    """Grams of a pack that are eaten."""
    return q(food['pack']) * 1000 * (1 - q(food.get('refuse')))


def uncorrected(acts):
    """The acts but those taken as never written; act n is entry n. A correction can be corrected."""
    gone = set()
    for n in range(len(acts), 0, -1):
        if acts[n - 1]['args'][0] == 'correct' and n not in gone:
            gone.add(int(acts[n - 1]['args'][1]))
    return [a for n, a in enumerate(acts, 1) if n not in gone and a['args'][0] != 'correct']


def standing(counts):
    """The counts (at, packs, key) that still tell something: all since the count of the whole food or, without one, since the oldest that is the
    last of its lot (an empty lot holds nothing up); from before it the last of each lot. Of counts of the whole food the last alone."""
    again = lambda i, until: any(c[2] == counts[i][2] for c in counts[i + 1:until + 1])
    last, whole = len(counts) - 1, [i for i, c in enumerate(counts) if not any(c[2])]
    since = whole[-1] if whole else min((i for i, c in enumerate(counts) if c[1] > 0 and not again(i, last)), default=last)
    return [c for i, c in enumerate(counts) if not again(i, max(i, since) if any(c[2]) else last)]


class Boat:
    def __init__(self, folder, now, acts=()):
        read = lambda name: tomllib.loads((Path(folder) / name).read_text(encoding='utf-8')) if (Path(folder) / name).exists() else {}
        self.boat, self.rates, self.plan, stores, upkeep = (read(n + '.toml') for n in ('boat', 'rates', 'passage', 'stores', 'upkeep'))
        self.scrubbed = max((x['last']['date'] for x in upkeep.get('service', []) if x.get('resets') == 'fouling'), default=None)
        self.now, self.crew = now, self.plan['crew']
        self.depart = self.plan['depart']
        if now > self.depart:
            self.depart = now.astimezone(self.depart.tzinfo)
        self.engine, self.legs = self.boat['engine'], self.plan['leg']
        self.curve = self.engine.get('curve', [])
        self.tanks = [Tank(t) for t in self.boat['tank']]
        self.foods = {f['name']: f for f in stores.get('food', [])}
        self.lots = [Lot(l, self.foods[l['food']], i) for i, l in enumerate(stores.get('lot', []))]
        self.rations = [(r['food'], q(r['each']) * 1000 * self.crew) for r in self.rates.get('ration', [])]
        self.readings, self.counts = [], {}
        for act in uncorrected(acts):
            at = dt.datetime.fromisoformat(act['at'])
            if at <= now:
                getattr(self, 'act_' + act['args'][0])(at, *act['args'][1:])
        self.fouling = self.fouling_factor()
        self.runs = {n: self.run(self.plan['cases'][n]) for n in CASES}

    # ---- acts

    def tank(self, name):
        return next(t for t in self.tanks if t.name == name)

    def act_sound(self, at, name, level):
        self.tank(name).set(level)
        self.tank(name).at = at

    def act_fill(self, at, name, amount, *source):
        """More than the tank holds is over the side: then it is full to the brim."""
        tank = self.tank(name)
        if amount == 'full':
            tank.set('full')
            tank.at = at
            return
        tank.level = min(tank.capacity, tank.level + q(amount))
        tank.brim()
        if source:
            giver = self.tank(source[1])
            giver.level -= q(amount)
            giver.brim()

    def act_count(self, at, food, packs, *flags):
        """Kept until all are known, then gone through in their order by count()."""
        given = dict(zip(flags[::2], flags[1::2]))
        key = tuple(given.get('--' + k) for k in ('best-before', 'use-by', 'bought', 'place'))
        self.counts.setdefault(food, []).append((at, float(packs), key))

    def count(self, food):
        """The lots of a food after its counts. A count that leaves out the date or the place is of all lots which it fits: what is missing was
        eaten, soonest date first; what is more is a lot of its own. Between counts of single lots the rations are eaten."""
        since = None
        for at, packs, key in standing(self.counts[food]):
            if since and any(key):
                self.eat_between(food, since, at)
            grams, since = packs * pack(self.foods[food]), at
            lots = sorted((l for l in self.lots if l.food == food), key=lambda l: (l.date, l.number))
            fits = [l for l in lots if l.key == key] or [l for l in lots if all(k in (None, own) for k, own in zip(key, l.key))]
            if len(fits) == 1 and any(key):
                fits[0].grams = grams
                continue
            missing = sum(l.grams for l in fits) - grams
            for lot in fits:
                bite = max(0.0, min(lot.grams, missing))
                lot.grams -= bite
                missing -= bite
            if not any(key) and missing >= 0:              # a count of all: a lot that it leaves nothing of is forgotten
                self.lots = [l for l in self.lots if l.food != food or l.grams > 0]
            if missing < 0:
                dates = {k: dt.date.fromisoformat(v) for k, v in zip(('best_before', 'use_by', 'bought'), key) if v}
                self.lots.append(Lot({'food': food, 'packs': 0, 'place': key[3] or ''} | dates, self.foods[food], len(self.lots)))
                self.lots[-1].grams = -missing
        self.eat_between(food, since, self.depart)

    def act_reading(self, at, *pairs):
        self.readings.append((at, dict(p.split('=') for p in pairs)))

    # ---- 4.1 time

    def clean_speed(self, rpm):
        return line([(r['rpm'], q(r['speed'])) for r in self.curve], rpm)

    def fouling_factor(self):
        seen = []
        for at, r in self.readings:
            if r.get('under_way') == 'no' or r.get('sails') != 'down' or 'speed' not in r or 'rpm' not in r:
                continue
            clean = self.clean_speed(float(r['rpm'])) if self.curve else None
            if self.scrubbed and at.astimezone(self.now.tzinfo).date() < self.scrubbed:
                continue
            if float(r['rpm']) < 1500 or self.now - at > dt.timedelta(days=60) or not clean:
                continue
            seen.append(q(r['speed']) / clean)
        seen = sorted(seen[-5:])
        if not seen:
            return 1.0
        half = len(seen) // 2
        return min(1.0, seen[half] if len(seen) % 2 else (seen[half - 1] + seen[half]) / 2)

    def leg_speed(self, leg, case):
        p, f = case['power'], self.fouling
        motor = q(leg['power']) if not self.curve else self.clean_speed(self.rpm(leg))
        sail = q(leg['sail']) * (1 if leg.get('as_is') else f)
        return p * case.get('motor', 1) * motor * f + (1 - p) * case['speed'] * sail + q(leg.get('current'))

    def rpm(self, leg):
        return leg.get('rpm', self.engine['cruise_rpm'])

    # ---- 4.2 and 4.3: what is used

    def burn(self, rpm):
        if self.curve:
            return line([(r['rpm'], q(r['burn'])) for r in self.curve], rpm)
        return max(0.5, q(self.engine['rated_power']) * 0.30 * (rpm / self.engine['rated_rpm']) ** 3)

    def water_gross(self):
        w = self.rates['water']
        hot = w.get('hot_weather', 1) if self.plan['climate'] == 'hot' else 1
        return self.crew * (q(w['drinking']) * hot + q(w.get('cooking')) + q(w.get('washing'))) + q(w.get('boat'))

    def water_net(self, p):
        """A day's use at sea with the share p under engine; p None: at rest."""
        made, maker, charging = 0.0, self.boat.get('watermaker'), q(self.engine['charging'])
        if maker:
            out, run = q(maker['output']), q(maker['run'])
            made = out * run
            if maker.get('needs_engine'):
                rest = out * min(run, charging)
                made = rest if p is None else out * run * p + rest * (1 - p)
        return max(0.0, self.water_gross() - made)

    def gas_daily(self):
        g = self.rates['gas']
        return self.crew * q(g.get('person')) + q(g.get('boat'))

    def segment(self, hours, case=None, leg=None):
        """What a leg (or, without one, a stay or wait) takes."""
        days, p = hours / DAY, case['power'] if leg else 0.0
        charged = q(self.engine['charging']) * days * (1 - p)
        fuel = charged * q(self.engine['charging_burn'])
        if leg:
            fuel += p * hours * self.burn(self.rpm(leg))
        heater = self.boat.get('heater')
        if heater and self.plan['climate'] == 'cold':
            fuel += q(heater['burn']) * q(heater['run']) * days
        return {'hours': hours, 'engine': p * hours + charged, 'fuel': fuel, 'gas': self.gas_daily() * days,
                'water': self.water_net(p if leg else None) * days, 'gross': self.water_gross() * days,
                'food': self.crew * days}

    def run(self, case):
        """The segments of a case from departure to the last arrival; None where a leg cannot be made."""
        out = []
        for i, leg in enumerate(self.legs):
            if i:
                out.append(self.segment(q(self.legs[i - 1].get('stay')) + q(case.get('wait'))))
            speed = self.leg_speed(leg, case)
            if speed < 0.5:
                return None
            length = great_circle(leg['route']) if 'route' in leg else q(leg['distance'])
            out.append(self.segment(length / speed, case, leg))
        return out

    # ---- 4.4 available

    def available(self, thing):
        tanks = [t for t in self.tanks if t.holds == thing and t.planned]
        since = [t.at for t in tanks if t.at]
        used = self.used(thing, min(since)) if since else 0.0
        return max(0.0, sum(t.counted() for t in tanks) - used)

    def used(self, thing, since):
        """Used from the earliest sounding to the departure, at rest: water and gas at their daily rate; fuel by the hour-meter as far as it was
        read (from the opening hours where it was never read before), by charging for the rest, and the heater all the time."""
        days = max(0.0, (self.depart - since).total_seconds() / 86400)
        if thing != 'fuel':
            return (self.gas_daily() if thing == 'gas' else self.water_net(None)) * days
        heater = self.boat.get('heater')
        used = days * q(heater['burn']) * q(heater['run']) if heater and self.plan['climate'] == 'cold' else 0.0
        hours = [(at, float(r['hours'])) for at, r in self.readings if 'hours' in r]
        before = [h for at, h in hours if at <= since] or [self.engine['hours']]
        for at, h in hours[-1:]:
            if at > since:
                used += (h - before[-1]) * self.burn(self.engine['cruise_rpm'])
                days = (self.depart - at).total_seconds() / 86400
        return used + days * q(self.engine['charging']) * q(self.engine['charging_burn'])

    def usable(self, thing):
        return sum(t.usable() for t in self.tanks if t.holds == thing and t.planned)

    # ---- 4.5 stretches

    def stretches(self, thing):
        """[(from, to, first leg, last leg)]: cut at every stop that surely gives the thing."""
        cuts = [i for i, leg in enumerate(self.legs[:-1]) if thing in leg.get('fill', [])]
        ends = cuts + [len(self.legs) - 1]
        starts = [0] + [i + 1 for i in cuts]
        return [(self.legs[a]['from'], self.legs[b]['to'], a, b) for a, b in zip(starts, ends)]

    def inside(self, run, a, b):
        return run[2 * a:2 * b + 1]                       # leg, rest, leg, rest, ... without the rests at either end

    # ---- 4.6, 4.7

    def hard(self, thing, a, b):
        made = {n: self.inside(r, a, b) for n, r in self.runs.items() if r}
        weight = lambda n: (sum(s[thing] for s in made[n]), sum(s['hours'] for s in made[n]))
        name = max(made, key=weight)
        ties = [n for n in made if all(abs(x - y) <= 1e-9 * max(1, abs(y)) for x, y in zip(weight(n), weight(name)))]
        return name, made[name], ties

    def reserve(self, thing, segments, days):
        r = self.rates['reserve'][thing]
        if r.get('none'):
            return 0.0
        need = sum(s['gross' if thing == 'water' else thing] for s in segments)
        return max(0.0, r.get('days', 0) * need / days, r.get('share_of_need', 0) * need,
                   r.get('share_of_capacity', 0) * self.usable(thing) if thing != 'food' else 0, q(r.get('amount')))

    def lasts(self, thing, segments, left):
        """Days until `left` is used up along the segments, then at their mean; None: never."""
        if left < 0:
            return 0.0
        hours = sum(s['hours'] for s in segments)
        need = sum(s[thing] for s in segments)
        if need <= 0:
            return None
        t = 0.0
        for s in segments:
            if s[thing] >= left and s[thing] > 0:
                return (t + s['hours'] * left / s[thing]) / DAY
            left -= s[thing]
            t += s['hours']
        return (t + left / (need / hours)) / DAY

    def thing(self, thing):
        rows = []
        for number, (start, to, a, b) in enumerate(self.stretches(thing)):
            name, segments, ties = self.hard(thing, a, b)
            days, need = sum(s['hours'] for s in segments) / DAY, sum(s[thing] for s in segments)
            row = {'from': start, 'to': to, 'hard_case': ties, 'days': days, 'need': need, 'reserve': self.reserve(thing, segments, days)}
            if thing == 'food' and number:
                row |= {'available': None, 'short': 0.0, 'endurance_days': None, 'last_drop_days': None, 'margin_days': None}
            elif thing == 'food':
                last = self.food_days()
                row |= self.judged(last * self.crew, row, max(0.0, last - self.rates['reserve']['food'].get('days', 0)), last)
            else:
                have = self.usable(thing) if number else self.available(thing)
                row |= self.judged(have, row, self.lasts(thing, segments, have - row['reserve']), self.lasts(thing, segments, have))
            rows.append(row)
        return rows

    def judged(self, have, row, endurance, last_drop):
        return {'available': have, 'short': max(0.0, row['need'] + row['reserve'] - have), 'endurance_days': endurance,
                'last_drop_days': last_drop, 'margin_days': None if endurance is None else endurance - row['days']}

    # ---- 4.8 food

    def take(self, name, grams, day):
        got = 0.0
        for lot in sorted((l for l in self.lots if l.food == name and l.end >= day), key=lambda l: (l.date, l.number)):
            bite = min(lot.grams, grams - got)
            lot.grams -= bite
            got += bite
        return got

    def energy(self, name, grams):
        return grams * self.foods[name]['kcal'] / 100

    def eat(self, day):
        """Eats one day's rations; the energy eaten."""
        eaten, planned = 0.0, sum(self.energy(n, g) for n, g in self.rations)
        for name, grams in self.rations:
            got = self.take(name, grams, day)
            eaten += self.energy(name, got)
            other = self.foods[name].get('instead')
            if other and grams - got > EPS:
                wanted = self.energy(name, grams - got) * 100 / self.foods[other]['kcal']
                eaten += self.energy(other, self.take(other, wanted, day))
        order, room = [n for n, _ in self.rations], dict(self.rations)
        for lot in sorted((l for l in self.lots if l.food in room and l.end >= day), key=lambda l: (l.date, order.index(l.food), l.number)):
            bite = max(0.0, min(lot.grams, room[lot.food], (planned - eaten) * 100 / self.foods[lot.food]['kcal']))
            lot.grams -= bite
            room[lot.food] -= bite
            eaten += self.energy(lot.food, bite)
        return eaten

    def eat_between(self, food, at, until):
        """Takes the food's ration off continuously, soonest date first, of each lot to the end of its last day."""
        each = sum(g for n, g in self.rations if n == food) / 86400
        for lot in sorted((l for l in self.lots if l.food == food), key=lambda l: (l.date, l.number)):
            end = until
            if lot.end < dt.date.max:
                end = min(until, dt.datetime.combine(lot.end + dt.timedelta(days=1), dt.time(), self.depart.tzinfo))
            bite = min(lot.grams, each * max(0.0, (end - at).total_seconds()))
            lot.grams -= bite
            at += dt.timedelta(seconds=bite / each if each else 0)

    def food_days(self):
        for food in self.counts:
            self.count(food)
        least, days = 0.9 * self.crew * q(self.rates['food']['energy']), 0
        while self.eat((self.depart + dt.timedelta(days=days)).date()) >= least - 1e-6:
            days += 1
        return days

    # ---- all together

    def case(self, run):
        if run is None:
            return {k: None for k in ('hours', 'days', 'engine_hours', 'fuel_l', 'water_l', 'gas_kg', 'arrive')}
        total = lambda k: sum(s[k] for s in run)
        arrive = self.depart + dt.timedelta(hours=total('hours'))
        return {'hours': total('hours'), 'days': total('hours') / DAY, 'engine_hours': total('engine'), 'fuel_l': total('fuel'),
                'water_l': total('water'), 'gas_kg': total('gas'), 'arrive': arrive.isoformat()}

    def figures(self):
        out = {'cases': {n: self.case(self.runs[n]) for n in CASES}, 'fouling': self.fouling, 'resources': {}}
        some = any(self.runs.values())
        for thing in THINGS:
            if thing == 'food' and not self.rations:
                continue
            rows = self.thing(thing) if some else []
            empty = {k: None for k in ('available', 'reserve', 'need', 'endurance_days', 'last_drop_days', 'margin_days', 'short')}
            out['resources'][thing] = {k: (rows[0] if rows else empty)[k] for k in empty} | {'stretches': rows}
        rows = [r for x in out['resources'].values() for r in x['stretches'] if r['available'] is not None]
        out['verdict'] = 'holds'
        if any(r['short'] > EPS for r in rows):
            out['verdict'] = 'into the reserve'
        if any(r['need'] > r['available'] + EPS for r in rows):
            out['verdict'] = 'runs out'
        if not some:
            out['verdict'] = None                          # nothing can be reckoned: no case makes every leg
        return out


if __name__ == '__main__':
    deeds = json.loads(Path(sys.argv[3]).read_text(encoding='utf-8')) if len(sys.argv) > 3 else []
    print(json.dumps(Boat(sys.argv[1], dt.datetime.fromisoformat(sys.argv[2]), deeds).figures(), indent=1))
