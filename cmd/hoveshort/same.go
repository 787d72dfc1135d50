package main

import (
	"encoding"
	"math"
	"reflect"
	"time"

	"boat/hoveshort/checklist"
)

// differences are the fields of two sign-offs that are not the same, by their names in
// the record. Figures may differ by a rounding of the last digits, times by what is less
// than the second to which they are kept.
func differences(x, y checklist.Sign) []string {
	var names []string
	a, b := reflect.ValueOf(x), reflect.ValueOf(y)
	for i := range a.NumField() {
		if !isSame(a.Field(i), b.Field(i)) {
			names = append(names, a.Type().Field(i).Tag.Get("toml"))
		}
	}
	return names
}

func isSame(a, b reflect.Value) bool {
	if at, is := a.Interface().(time.Time); is {
		other, _ := b.Interface().(time.Time)
		return at.Unix() == other.Unix()
	}
	switch a.Kind() {
	case reflect.Float64:
		return isNear(a.Float(), b.Float())
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !isSame(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		for i := range a.NumField() {
			if !isSame(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return isSame(a.Elem(), b.Elem())
	default:
		return a.Equal(b)
	}
}

// isNear allows a billionth, which is what another processor's arithmetic may change.
func isNear(x, y float64) bool { return math.Abs(x-y) <= 1e-9*math.Max(math.Abs(x), math.Abs(y)) }

// asKept is a value with the names that its fields have in the record, for JSON.
func asKept(v reflect.Value) any {
	if _, is := v.Interface().(encoding.TextMarshaler); is {
		return v.Interface()
	}
	switch v.Kind() {
	case reflect.Struct:
		fields := map[string]any{}
		for i := range v.NumField() {
			fields[v.Type().Field(i).Tag.Get("toml")] = asKept(v.Field(i))
		}
		return fields
	case reflect.Slice:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = asKept(v.Index(i))
		}
		return list
	default:
		return v.Interface()
	}
}
