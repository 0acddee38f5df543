package app

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/photos"
)

// operatorSocket is the socket in the folder of a book that is served, by which a
// backup of it is asked for. Whoever may enter the folder may read the book: no token
// is asked for, and nothing of it can be reached over a network.
const operatorSocket = "operator.sock"

// longestSocket is the longest path that every system takes for a socket, in bytes.
const longestSocket = 100

// operator gives backups of a book to who asks for them at its socket.
type operator struct {
	dir   string
	store history.Store
	album *photos.Folder // nil: there are no photos
	log   *slog.Logger
	door  net.Listener

	asked sync.WaitGroup
	ctx   context.Context // of all that were asked for
	end   context.CancelFunc
}

// openOperator opens the socket of a book. Where that cannot be, the book is served all
// the same: a backup is then made when it is not.
func openOperator(dir string, store history.Store, album *photos.Folder, log *slog.Logger) *operator {
	o := &operator{dir: dir, store: store, album: album, log: log}
	o.ctx, o.end = context.WithCancel(context.Background())
	if dir == "" {
		return o
	}
	err := atSocket(dir, func(path string) (err error) {
		if err = os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
		if o.door, err = net.Listen("unix", path); err != nil {
			return err
		}
		return os.Chmod(path, 0o600)
	})
	if err != nil {
		log.Warn("no backup can be made while this book is served: its socket cannot be opened", "error", err)
	}
	if o.door != nil {
		o.asked.Go(o.listen)
	}
	return o
}

// atSocket runs f with the path of a book's socket, or with a short one to the same.
func atSocket(dir string, f func(path string) error) error {
	path := filepath.Join(dir, operatorSocket)
	if len(path) <= longestSocket || runtime.GOOS != "linux" {
		return f(path)
	}
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer func() { _ = folder.Close() }()
	return f(fmt.Sprintf("/proc/self/fd/%d/%s", folder.Fd(), operatorSocket))
}

// listen answers who comes, until the socket is closed.
func (o *operator) listen() {
	for {
		conn, err := o.door.Accept()
		if err != nil {
			return
		}
		o.asked.Go(func() { o.backup(conn) })
	}
}

// backup writes a backup to who has come. One who goes away, or who takes nothing when
// the server ends, is left.
func (o *operator) backup(conn net.Conn) {
	defer func() { _ = conn.Close() }()
	defer context.AfterFunc(o.ctx, func() { _ = conn.SetDeadline(time.Now().Add(time.Second)) })()
	began := time.Now()
	end, err := backup.Write(o.ctx, conn, o.store, backup.About{
		Program: Version, Made: began, Photos: allPhotos(o.ctx, o.album, book.New(o.store, nil, time.Now)),
	})
	if err != nil {
		o.log.Error("a backup was broken off", "error", err)
		return
	}
	o.log.Info("a backup was made", "changes", end.Changes, "rows", end.Rows, "took", time.Since(began).Round(time.Millisecond))
}

// close ends what is being made, and takes the socket away: while the store is open, for
// then nobody else has opened one there.
func (o *operator) close() {
	if o == nil {
		return
	}
	o.end()
	if o.door != nil {
		_ = o.door.Close()
		_ = os.Remove(filepath.Join(o.dir, operatorSocket)) // it may be known to the door by a path that is gone
	}
	o.asked.Wait()
}

// askOperator asks the server that keeps a book for a backup of it.
func askOperator(dir string) (conn net.Conn, err error) {
	err = atSocket(dir, func(path string) error {
		conn, err = net.Dial("unix", path)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("the book in %s is in use, and who has it open gives no backup: end that and try again (%w)", dir, err)
	}
	return conn, nil
}
