//go:build unix

package app

import "syscall"

// keepPrivate lets nobody else read what the program makes: files of the book's engine
// too, which it would make readable to all.
func keepPrivate() { syscall.Umask(0o077) }
