"""What to load, what ifs and turning back of a boat folder, reckoned a second time from the words of the design and not from the Go code.

    python3 reckon_more.py DIR TIME [ACTS.json]     prints what reckon.py does, with what_if, load, turning, on_or_back and range

It stands on reckon.py, which has the use, the stretches and the food. Standard library only, Python 3.11 or later.

Where the words leave a choice, this is taken.
- Every what if begins at the departure: what was used before it is the plan's own, with one more aboard or not, with the tank lost or not.
- Food is eaten in the order of the written dates, fridge or no fridge.
- Day n begins 24*(n-1) h after departure: what ends with the second day ends on day 3. Going into the reserve has a day too, that on which it is touched.
- No wind: the 120 h are hours at sea; the fuel that may be burnt is the plan's available less its reserve (full tanks less the reserve from a stop
  that surely gives fuel), and all that is used counts; adrift she makes no miles; a leg that a case cannot make with wind it does not make without.
- Two stops or two alternates of one name are told apart by their legs.
- Loading: a tank is below its pick-up where its level less its error is; it is lifted over it where its room is first wanted, and of several tanks
  those are taken that swallow least; what was used since the sounding has left room above the pick-ups.
- Turning back: the way home is sailed with the case's factors and the fouling and without stays, as far as the beginning of the thing's stretch.
- On or back is told in the slow case; where it is not made, in the next slower one.
- Range is that in still water, with the heater burning when it is cold. Of cases that need the same the slower is the hard one.
"""
import copy
import datetime as dt
import itertools
import json
import math
import sys
from pathlib import Path

import reckon
from reckon import CASES, DAY, EPS, THINGS, Boat, later, q

CALM = 120.0                                               # hours without wind
WORDS = ('holds', 'into the reserve', 'runs out')
UNIT = {'water': 'L', 'fuel': 'L', 'food': 'person-days', 'gas': 'kg'}


class Voyage(Boat):
    """A boat at her departure: what is aboard is settled, and a change of anything else is a change of what comes after."""

    slowed, budget, cooking, enough = 1.0, None, True, 0.9

    def __init__(self, folder, now, acts=()):
        super().__init__(folder, now, acts)
        for food in self.counts:
            self.count(food)
        self.counts = {}
        self.before = {t: self.used_before(t) for t in THINGS if t != 'food'}
        self.unjudged = set() if self.rations else {'food'}
        self.reckon()

    def reckon(self):
        self.runs = {n: self.run(self.plan['cases'][n]) for n in CASES}
        return self

    def changed(self, change, *args):
        """The same boat after a change, reckoned anew."""
        other = copy.deepcopy(self)
        change(other, *args)
        return other.reckon()

    # ---- what is aboard

    def used_before(self, thing):
        since = [t.at for t in self.tanks if t.holds == thing and t.planned and t.at]
        return self.used(thing, min(since)) if since else 0.0

    def planned(self, thing):
        return [t for t in self.tanks if t.holds == thing and t.planned]

    def available(self, thing):
        return max(0.0, sum(t.counted() for t in self.planned(thing)) - self.before[thing])

    def usable_food(self, lot):
        return self.cooking or not self.foods[lot.food].get('cook', False)

    def food_days(self):
        kept, self.lots = self.lots, copy.deepcopy([l for l in self.lots if self.usable_food(l)])
        least, days = self.enough * self.crew * q(self.rates['food']['energy']), 0
        while self.eat((self.depart + dt.timedelta(days=days)).date()) >= least - 1e-6:
            days += 1
        self.lots = kept
        return days

    # ---- under way

    def water_net(self, p):
        """A float crumb is no use of water."""
        net = super().water_net(p)
        return net if net > EPS else 0.0

    def length(self, leg):
        return reckon.great_circle(leg['route']) if 'route' in leg else q(leg['distance'])

    def leg_speed(self, leg, case):
        current = q(leg.get('current'))
        return self.slowed * (super().leg_speed(leg, case) - current) + current

    def makes(self, leg, case):
        return self.leg_speed(leg, case) >= 0.5

    def span(self, hours, miles, case, leg):
        return self.segment(hours, case, leg) | {'miles': miles}

    def sail(self, miles, case, leg):
        return self.span(miles / self.leg_speed(leg, case), miles, case, leg)

    def run(self, case):
        """For each leg and each rest between legs its spans; None where a leg cannot be made."""
        out, calm = [], Calm(self) if self.budget else None
        for i, leg in enumerate(self.legs):
            if i:
                rest = self.segment(q(self.legs[i - 1].get('stay')) + q(case.get('wait'))) | {'miles': 0.0}
                out.append([rest])
                if calm:
                    calm.rest(i - 1, rest)
            spans, left = calm.leg(leg, case) if calm else ([], self.length(leg))
            if not self.makes(leg, case):
                return None
            out.append(spans + ([self.sail(left, case, leg)] if left > EPS else []))
        return out

    def inside(self, run, a, b):
        return list(itertools.chain.from_iterable(run[2 * a:2 * b + 1]))

    # ---- things on stretches

    def hard(self, thing, a, b):
        """Of cases that are equal in all the slowest one."""
        name, spans, ties = super().hard(thing, a, b)
        return ties[-1], self.inside(self.runs[ties[-1]], a, b), ties

    def stretch_rows(self, thing):
        """One row a stretch, with the hard case's name, spans and the hours that it takes to get there."""
        rows = []
        for number, (start, to, a, b) in enumerate(self.stretches(thing)):
            name, spans, _ = self.hard(thing, a, b)
            hours = sum(s['hours'] for s in spans)
            row = {'thing': thing, 'from': start, 'to': to, 'a': a, 'b': b, 'case': name, 'spans': spans, 'hours': hours,
                   'start': sum(s['hours'] for s in itertools.chain.from_iterable(self.runs[name][:2 * a])),
                   'need': sum(s[thing] for s in spans), 'reserve': self.reserve(thing, spans, hours / DAY)}
            if thing == 'food':
                row['last'] = None if number else self.food_days()
                row['available'] = None if number else row['last'] * self.crew
            else:
                row['available'] = self.usable(thing) if number else self.available(thing)
            rows.append(row)
        return rows

    def moment(self, hours):
        """The time `hours` after departure."""
        return (self.depart + dt.timedelta(hours=hours)).isoformat()

    def some(self):
        return any(self.runs.values())

    def judged_rows(self):
        things = [t for t in THINGS if t not in self.unjudged]
        return [r for t in things for r in self.stretch_rows(t) if r['available'] is not None] if self.some() else []

    def gone_after(self, row, kept):
        """Hours from the stretch's start until what is available less `kept` is used up."""
        if row['thing'] == 'food':
            return max(0.0, row['last'] - (self.rates['reserve']['food'].get('days', 0) if kept else 0)) * DAY
        return self.lasts(row['thing'], row['spans'], row['available'] - kept) * DAY

    def verdict(self, row):
        """(rank, day, place of the thing, moment, miles short) of a stretch; rank 0 where it holds."""
        if row['need'] > row['available'] + EPS:
            after = self.gone_after(row, 0.0)
            return 2, day(row['start'] + after), THINGS.index(row['thing']), row['start'] + after, miles_left(row['spans'], after)
        if row['need'] + row['reserve'] > row['available'] + EPS:
            after = self.gone_after(row, row['reserve'])
            return 1, day(row['start'] + after), THINGS.index(row['thing']), row['start'] + after, 0.0
        return 0, None, None, None, 0.0

    def answer(self, name, plan):
        """The row of a what if, and what it is sorted by."""
        if any(plan.makes(was, plan.plan['cases'][n]) and not self.makes(leg, self.plan['cases'][n])
               for n in CASES for was, leg in zip(plan.legs, self.legs)):
            return {'name': name, 'verdict': WORDS[2], 'what': 'leg', 'day': None, 'short_nm': None}, (-2, 0, 0)
        bad = [v for v in map(self.verdict, self.judged_rows()) if v[0]]
        if not bad:
            return {'name': name, 'verdict': WORDS[0], 'what': '', 'day': None, 'short_nm': 0.0}, (0, 2, 0)
        rank, on, thing, moment, short = min(bad, key=lambda v: (-v[0], *v[1:]))
        return {'name': name, 'verdict': WORDS[rank], 'what': THINGS[thing], 'day': on, 'short_nm': short}, (-rank, 1, round(moment, 6))


class Calm:
    """The hours without wind that are left in a case, and the fuel that may be burnt in them."""

    def __init__(self, voyage):
        self.voyage, self.hours, self.stretch = voyage, CALM, 0
        self.fuel = voyage.budget[0]

    def rest(self, stop, span):
        """A stop that surely gives fuel is left with full tanks."""
        self.fuel -= span['fuel']
        if 'fuel' in self.voyage.legs[stop].get('fill', []):
            self.stretch += 1
            self.fuel = self.voyage.budget[self.stretch]

    def leg(self, leg, case):
        """The spans under engine and adrift, and the miles of the leg that are left after them."""
        engine, v = dict(case, power=1.0), self.voyage
        speed, left, spans = v.leg_speed(leg, engine), v.length(leg), []
        if speed >= 0.5:
            burn = v.segment(1.0, engine, leg)['fuel']
            hours = max(0.0, min(self.hours, left / speed, self.fuel / burn))
            spans.append(v.span(hours, hours * speed, engine, leg))
            left -= hours * speed
        if left <= EPS:
            left = 0.0
        elif self.hours - sum(s['hours'] for s in spans) > 0:
            spans.append(v.span(self.hours - sum(s['hours'] for s in spans), 0.0, dict(case, power=0.0), leg))
        self.hours -= sum(s['hours'] for s in spans)
        self.fuel -= sum(s['fuel'] for s in spans)
        return [s for s in spans if s['hours'] > 0], left


def day(hours):
    return math.floor(hours / DAY + 1e-9) + 1


def miles_left(spans, after):
    """Miles to the end of the spans from `after` hours on."""
    left = 0.0
    for s in spans:
        if after <= 0:
            left += s['miles']
        elif after < s['hours']:
            left += s['miles'] * (1 - after / s['hours'])
        after -= s['hours']
    return left


# ---- 4.10 what ifs: each a change of the voyage

def tank_lost(v):
    max(v.planned('water'), key=lambda t: t.counted()).planned = False


def watermaker_dead(v):
    del v.boat['watermaker']
    if 'rationed' in v.rates['water']:
        v.rates['water'] = {'drinking': v.rates['water']['rationed']}


def no_wind(v, plan):
    v.budget = [r['available'] - r['reserve'] for r in plan.stretch_rows('fuel')]
    v.unjudged.add('fuel')


def no_engine(v):
    for case in v.plan['cases'].values():
        case['power'] = 0.0
    v.engine['charging'] = '0 h'
    v.unjudged.add('fuel')


def slower(v):
    v.slowed = 0.8


def one_more(v):
    v.crew += 1
    v.rations = [(r['food'], q(r['each']) * 1000 * v.crew) for r in v.rates.get('ration', [])]


def nothing_at(v, i):
    v.legs[i]['fill'] = []


def fridge_dead(v):
    """The written dates still say what is eaten first."""
    for lot in v.lots:
        food = v.foods[lot.food]
        if food.get('chilled'):
            first = v.depart.date()
            lot.end = min(lot.end, later(first, food['keeps_warm']) if 'keeps_warm' in food else first)


def gas_gone(v):
    v.cooking, v.enough = False, 0.5
    v.unjudged.add('gas')


def divert(v, i, alternate):
    del v.legs[i + 1:]
    leg = v.legs[i]
    leg.pop('route', None)
    leg['distance'] = f"{q(alternate['after']) + q(alternate['distance'])!r} nm"


def told_apart(names):
    """(index, name) with the leg's number where two have one name."""
    all_names = [n for _, n in names]
    return [(i, f'{n} (leg {i + 1})' if all_names.count(n) > 1 else n) for i, n in names]


def changes(v):
    """(name, change, arguments) of all what ifs, in the design's order."""
    out = []
    if len(v.planned('water')) > 1:
        out.append(('fullest water tank lost', tank_lost))
    if v.boat.get('watermaker'):
        out.append(('watermaker dead', watermaker_dead))
    out += [('no wind', no_wind, v), ('no engine', no_engine), ('a fifth slower', slower), ('one more aboard', one_more)]
    giving = [(i, leg['to']) for i, leg in enumerate(v.legs[:-1]) if any(t in THINGS for t in leg.get('fill', []))]
    out += [(f'nothing at {name}', nothing_at, i) for i, name in told_apart(giving)]
    if any(f.get('chilled') for f in v.foods.values()):
        out.append(('fridge dead', fridge_dead))
    if any(f.get('cook') for f in v.foods.values()):
        out.append(('gas gone', gas_gone))
    alternates = [(i, a) for i, leg in enumerate(v.legs) for a in leg.get('alternate', [])]
    names = told_apart([(i, a['name']) for i, a in alternates])
    return out + [(f'divert to {name}', divert, i, a) for (i, a), (_, name) in zip(alternates, names)]


def what_ifs(v):
    """The rows: the worst first, of equals the earliest, of equals in the design's order."""
    answers = [v.changed(change, *args).answer(name, v) for name, change, *args in changes(v)] if v.some() else []
    return [row for row, _ in sorted(answers, key=lambda a: a[1])]


# ---- 4.9 what to load

def lifted(v, thing, content, before):
    """The tanks to be lifted over their pick-ups, those `before` among them, so that `content` has room, with the least that stays below."""
    missing = {t.name: below_pick_up(t) for t in v.planned(thing)}
    low = [t for t in v.planned(thing) if missing[t.name] > 0 and t not in before]
    room = sum(t.usable() for t in v.planned(thing) if t not in low)
    choices = (c for n in range(len(low) + 1) for c in itertools.combinations(low, n))
    least = min((c for c in choices if room + sum(t.usable() for t in c) >= content - EPS), key=lambda c: sum(missing[t.name] for t in c))
    return before + list(least), sum(missing[t.name] for t in least)


def below_pick_up(tank):
    return max(0.0, tank.unusable - max(0.0, tank.level - tank.error * tank.capacity))


def load_thing(v, thing):
    """[(leg that she has come by, amount)] of a thing; leg None: the departure."""
    out, left, over = [], None, []
    for number, row in enumerate(v.stretch_rows(thing)):
        left = row['available'] if number == 0 else left
        gives = number > 0 or thing in v.plan.get('fill', [])
        amount = max(0.0, row['need'] + row['reserve'] - left) if gives else 0.0
        extra = 0.0
        if thing != 'food':
            amount = min(amount, v.usable(thing) - left)
            if amount > EPS:
                over, extra = lifted(v, thing, left + amount, over)
        if gives:
            out.append((row['a'] - 1, amount + extra))
        left = max(0.0, left + amount - row['need'])
    return out


def load(v):
    rows = []
    for place, thing in enumerate(THINGS):
        if v.some() and (thing != 'food' or v.rations):
            rows += [(leg, place, amount) for leg, amount in load_thing(v, thing)]
    return [{'at': v.legs[max(0, leg)]['to' if leg >= 0 else 'from'], 'what': THINGS[place], 'amount': amount, 'unit': UNIT[THINGS[place]]}
            for leg, place, amount in sorted(rows)]


# ---- 4.11 turning back

def homeward(leg, case):
    """The leg and the case of going back along it."""
    home, back = leg.get('home', {}), dict(leg)
    back['current'] = f'{-q(leg.get("current"))!r} kn'
    back['sail'] = home.get('sail', f'{q(leg["sail"]) / 2!r} kn')
    return back, dict(case, power=home.get('power', case['power']))


def home_span(v, leg, case):
    """The span of the whole leg back; None where she cannot go back."""
    back, how = homeward(leg, case)
    return v.sail(v.length(leg), how, back) if v.makes(back, how) else None


def state(after, miles):
    """Where the miles after which she must turn lie; None: no way leads back."""
    if after is None:
        return 'no way home'
    if after < -EPS:
        return 'passed before'
    return 'on this leg' if after < miles - EPS else 'none on this leg'


def turning_thing(v, row):
    """A row a leg of a stretch: the miles after which she must turn."""
    out, case = [], v.plan['cases'][row['case']]
    budget, hours, open_way = row['available'] - row['reserve'], row['start'], True
    for i in range(row['a'], row['b'] + 1):
        leg = v.legs[i]
        there, back, miles = v.sail(v.length(leg), case, leg), home_span(v, leg, case), v.length(leg)
        after = None
        if open_way and back:
            per_mile = (there[row['thing']] + back[row['thing']]) / miles
            after = budget / per_mile if per_mile > 0 else math.copysign(math.inf, budget)
        out.append({'leg': i + 1, 'what': row['thing'], 'case': row['case'], 'back_to': row['from'], 'state': state(after, miles),
                    'after_nm': None, 'at': None})
        if out[-1]['state'] == 'on this leg':
            after = max(0.0, after)
            out[-1] |= {'after_nm': after, 'at': v.moment(hours + after * there['hours'] / miles)}
        open_way = open_way and back is not None
        rest = v.runs[row['case']][2 * i + 1] if i < row['b'] else []
        budget -= there[row['thing']] + sum(s[row['thing']] for s in rest) + (back[row['thing']] if back else 0.0)
        hours += there['hours'] + sum(s['hours'] for s in rest)
    return out


def turning(v):
    rows = [r for t in THINGS if t != 'food' or v.rations for r in v.stretch_rows(t) if r['available'] is not None] if v.some() else []
    return sorted((t for r in rows for t in turning_thing(v, r)), key=lambda t: t['leg'])


def on_or_back(v):
    """A row a leg: from where on and back take the same time; nothing where there is no way back."""
    name = next((n for n in reversed(CASES) if v.runs[n]), None)
    rows = []
    for i, leg in enumerate(v.legs if name else []):
        case, start = v.plan['cases'][name], sum(s['hours'] for s in itertools.chain.from_iterable(v.runs[name][:2 * i]))
        out, back = v.leg_speed(leg, case), v.leg_speed(*homeward(leg, case))
        row = {'leg': i + 1, 'case': name, 'after_nm': None, 'at': None, 'out_kn': None, 'home_kn': None}
        if back >= 0.5:
            after = v.length(leg) * back / (out + back)
            row |= {'after_nm': after, 'at': v.moment(start + after / out), 'out_kn': out, 'home_kn': back}
        rows.append(row)
    return rows


def reach(v):
    """Range under engine: a row of the curve each."""
    if not v.some():
        return []
    first, rows = v.stretch_rows('fuel')[0], []
    heater = v.segment(DAY)['fuel'] - q(v.engine['charging']) * q(v.engine['charging_burn'])
    for r in v.curve:
        speed, burn = q(r['speed']) * v.fouling, q(r['burn'])
        miles = lambda litres: max(0.0, litres) / (burn + heater / DAY) * speed
        rows.append({'rpm': r['rpm'], 'speed_kn': speed, 'burn_l_h': burn, 'whole_nm': miles(first['available'] - first['reserve']),
                     'last_drop_nm': miles(first['available'])})
    return rows


if __name__ == '__main__':
    deeds = json.loads(Path(sys.argv[3]).read_text(encoding='utf-8')) if len(sys.argv) > 3 else []
    at = dt.datetime.fromisoformat(sys.argv[2])
    voyage = Voyage(sys.argv[1], at, deeds)
    print(json.dumps({'what_if': what_ifs(voyage), 'load': load(voyage), 'turning': turning(voyage),
                      'on_or_back': on_or_back(voyage), 'range': reach(voyage)}, indent=1))
