//go:build race

package book_test

func init() { every = 5 } // the race detector slows judging by ten
