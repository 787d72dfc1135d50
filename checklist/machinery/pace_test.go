package machinery

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func job(name string, planned, taken int) Job {
	return Job{Name: name, Planned: time.Duration(planned) * time.Minute, Taken: time.Duration(taken) * time.Minute}
}

// Recomputed by hand: the median is the middle of what is sorted.
func TestPaceIsTheMedianOfTakenByPlanned(t *testing.T) {
	for _, row := range []struct {
		name string
		done []Job
		want Pace
	}{
		{"none", nil, Pace{Factor: 1}},
		{"two make no pace", []Job{job("a", 20, 120), job("b", 10, 60)}, Pace{1, 2, 6, 6}},
		{"three do", []Job{job("a", 20, 120), job("b", 10, 30), job("c", 40, 40)}, Pace{3, 3, 1, 6}},
		{"of four the mean of the middle two", []Job{job("a", 10, 10), job("b", 10, 20), job("c", 10, 40), job("d", 10, 600)}, Pace{3, 4, 1, 60}},
		{"without plan or time they do not tell", []Job{job("a", 20, 120), job("b", 0, 30), job("c", 40, 0)}, Pace{1, 1, 6, 6}},
	} {
		assert.Equal(t, row.want, PaceOf(row.done), row.name)
	}
	assert.Equal(t, "3.0 times the plan, from 1.0 to 6.0, over 3 jobs", Pace{3, 3, 1, 6}.Words())
	assert.Equal(t, "no pace of your own yet: 1 job timed, 3 make one", Pace{1, 1, 6, 6}.Words())
}

func TestTwentyMinutesPlannedThatTookTwoHoursTakeTwoHoursAgain(t *testing.T) {
	done := []Job{job("change raw-water impeller", 20, 120)}
	e := EstimateOf([]Job{job("change raw-water impeller", 20, 0)}, done)
	assert.Equal(t, 2*time.Hour, e.Likely)
	assert.Equal(t, "what stands before you took you 2 h the last times, planned 20 min; for 05:30 begin by 03:30", e.Words(at(2026, 6, 12, 5, 30)))

	done = append(done, job("x", 10, 60), job("y", 5, 30))
	e = EstimateOf([]Job{job("renew belts", 20, 0)}, done)
	assert.Equal(t, 2*time.Hour, e.Likely, "a pace of six")
	assert.Equal(t, OwnPace, e.Jobs[0].From)
}

func TestEstimateSaysOnWhatItStands(t *testing.T) {
	ready := at(2026, 6, 12, 5, 30)
	done := []Job{job("oil", 45, 100), job("oil", 45, 150), job("oil", 45, 500), job("belts", 20, 40)}
	for _, row := range []struct {
		name string
		jobs []Job
		done []Job
		want string
	}{
		{"both done before", []Job{job("oil", 45, 0), job("belts", 20, 0)}, done,
			"what stands before you took you 3 h 10 the last times, planned 1 h 05; for 05:30 begin by 02:20"},
		{"one by the pace of 100/45, 150/45, 500/45 and 2", []Job{job("belts", 20, 0), job("anode", 18, 0)}, done,
			"what stands before you takes about 1 h 30, planned 38 min (2.8 times the plan, from 2.0 to 11.1, over 4 jobs); for 05:30 begin by 04:00"},
		{"no pace yet", []Job{job("anode", 20, 0)}, done[:2],
			"what stands before you takes about 20 min, planned 20 min (no pace of your own yet: 2 jobs timed, 3 make one); for 05:30 begin by 05:10"},
		{"the evening before", []Job{job("oil", 45, 0), job("exchanger", 0, 0)}, []Job{job("oil", 45, 400)},
			"what stands before you took you 6 h 40 the last times, planned 45 min; for 05:30 begin by 22:50 the day before; without a time, not in it: exchanger"},
		{"days before", []Job{job("refit", 0, 0)}, []Job{job("refit", 0, 3000)},
			"what stands before you took you 2 days 2 h the last times, planned 0 min; for 05:30 begin by 03:30 on 10 Jun"},
		{"no time known", []Job{job("refit", 0, 0)}, nil, "no time is known of what stands before you: refit"},
		{"nothing", nil, done, "nothing stands before you"},
	} {
		assert.Equal(t, row.want, EstimateOf(row.jobs, row.done).Words(ready), row.name)
	}
}

func TestBeginIsRoundedDownToTheMinute(t *testing.T) {
	e := Estimate{Likely: 61 * time.Second}
	assert.Equal(t, at(2026, 6, 12, 5, 28), e.BeginBy(at(2026, 6, 12, 5, 30)))
}

func TestPaceLiesWithinWhatWasSeenAndOneBadNightDoesNotRuleIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var done []Job
		for range rapid.IntRange(3, 12).Draw(t, "jobs") {
			done = append(done, job("x", rapid.IntRange(1, 300).Draw(t, "planned"), rapid.IntRange(1, 300).Draw(t, "taken")))
		}
		p := PaceOf(done)
		assert.LessOrEqual(t, p.Least, p.Factor)
		assert.LessOrEqual(t, p.Factor, p.Most)

		worst := append(slices.Clone(done), job("bad night", 1, 100000))
		assert.LessOrEqual(t, PaceOf(worst).Factor, p.Most)
		assert.GreaterOrEqual(t, PaceOf(worst).Factor, p.Factor)
	})
}

func TestEstimateOfAnythingDoesNotOverflow(t *testing.T) {
	huge := Job{Name: "a", Planned: math.MaxInt64, Taken: math.MaxInt64}
	jobs := slices.Repeat([]Job{huge, {Name: "b", Planned: math.MinInt64, Taken: -1}}, 50)
	e := EstimateOf(jobs, jobs)
	assert.Equal(t, longestJob, e.Likely)
	assert.Equal(t, longestJob, e.Planned)
}
