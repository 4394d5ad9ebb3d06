/* The calls that watching.h sees, under the names by which programs call them, and the way to set it up. */
#include "watching.h"

#define MODE ({ mode_t mode_ = 0; if (flags & (O_CREAT | O_TMPFILE)) { va_list more; va_start(more, flags); \
    mode_ = va_arg(more, mode_t); va_end(more); } mode_; })
#define KNOWN(fd) (sort_of(fd) == KEPT || sort_of(fd) == INDEX || sort_of(fd) == MARKS)
#define TWO_PATHS path_t a, b; place(olddir, old, a), place(newdir, new, b)

int open(const char *path, int flags, ...) { return opened(AT_FDCWD, path, flags, MODE); }
int open64(const char *path, int flags, ...) { return opened(AT_FDCWD, path, flags, MODE); }
int openat(int dir, const char *path, int flags, ...) { return opened(dir, path, flags, MODE); }
int openat64(int dir, const char *path, int flags, ...) { return opened(dir, path, flags, MODE); }
int __open_2(const char *path, int flags) { return opened(AT_FDCWD, path, flags, 0); }
int __open64_2(const char *path, int flags) { return opened(AT_FDCWD, path, flags, 0); }
int creat(const char *path, mode_t mode) { return opened(AT_FDCWD, path, O_CREAT | O_WRONLY | O_TRUNC, mode); }
int creat64(const char *path, mode_t mode) { return opened(AT_FDCWD, path, O_CREAT | O_WRONLY | O_TRUNC, mode); }

ssize_t write(int fd, const void *from, size_t n) {
    return KNOWN(fd) ? LOCKED(put(fd, from, n, -1)) : REAL(write)(fd, from, n);
}
ssize_t pwrite(int fd, const void *from, size_t n, off_t at) {
    return KNOWN(fd) ? LOCKED(put(fd, from, n, at)) : REAL(pwrite)(fd, from, n, at);
}
ssize_t pwrite64(int fd, const void *from, size_t n, off_t at) { return pwrite(fd, from, n, at); }
ssize_t writev(int fd, const struct iovec *parts, int n) {
    return KNOWN(fd) ? LOCKED(put_all(fd, parts, n, -1)) : REAL(writev)(fd, parts, n);
}
ssize_t pwritev(int fd, const struct iovec *parts, int n, off_t at) {
    return KNOWN(fd) ? LOCKED(put_all(fd, parts, n, at)) : REAL(pwritev)(fd, parts, n, at);
}
ssize_t pwritev64(int fd, const struct iovec *parts, int n, off_t at) { return pwritev(fd, parts, n, at); }

int ftruncate(int fd, off_t size) { return KNOWN(fd) ? LOCKED(resize_seen(fd, size)) : REAL(ftruncate)(fd, size); }
int ftruncate64(int fd, off_t size) { return ftruncate(fd, size); }
int truncate(const char *path, off_t size) {
    path_t full;
    if (!inside(place(AT_FDCWD, path, full))) return REAL(truncate)(path, size);
    int fd = open(path, O_WRONLY), rc = fd < 0 ? -1 : ftruncate(fd, size);
    if (fd >= 0) close(fd);
    return rc;
}
int truncate64(const char *path, off_t size) { return truncate(path, size); }

int fsync(int fd) {
    return sort_of(fd) == FOREIGN ? REAL(fsync)(fd) : LOCKED(sync_seen(fd, refused_fd(fd) ? -1 : REAL(fsync)(fd)));
}
int fdatasync(int fd) {
    return sort_of(fd) == FOREIGN ? REAL(fdatasync)(fd)
                                  : LOCKED(sync_seen(fd, refused_fd(fd) ? -1 : REAL(fdatasync)(fd)));
}
int close(int fd) { return sort_of(fd) == FOREIGN ? REAL(close)(fd) : LOCKED(close_seen(fd)); }

int renameat2(int olddir, const char *old, int newdir, const char *new, unsigned flags) {
    TWO_PATHS;
    if (!inside(b) && !inside(a)) return REAL(renameat2)(olddir, old, newdir, new, flags);
    return LOCKED(named(RENAMED, a, b, refused(b) ? -1 : REAL(renameat2)(AT_FDCWD, a, AT_FDCWD, b, flags)));
}
int rename(const char *old, const char *new) { return renameat2(AT_FDCWD, old, AT_FDCWD, new, 0); }
int renameat(int olddir, const char *old, int newdir, const char *new) { return renameat2(olddir, old, newdir, new, 0); }
int linkat(int olddir, const char *old, int newdir, const char *new, int flags) {
    TWO_PATHS;
    if (!inside(b)) return REAL(linkat)(olddir, old, newdir, new, flags);
    return LOCKED(named(LINKED, a, b, refused(b) ? -1 : REAL(linkat)(AT_FDCWD, a, AT_FDCWD, b, flags)));
}
int link(const char *old, const char *new) { return linkat(AT_FDCWD, old, AT_FDCWD, new, 0); }
int unlinkat(int dir, const char *path, int flags) {
    path_t full;
    return inside(place(dir, path, full)) ? LOCKED(gone(AT_FDCWD, full, flags)) : REAL(unlinkat)(dir, path, flags);
}
int unlink(const char *path) { return unlinkat(AT_FDCWD, path, 0); }
int rmdir(const char *path) { return unlinkat(AT_FDCWD, path, AT_REMOVEDIR); }
int remove(const char *path) {
    struct stat now;
    return unlinkat(AT_FDCWD, path, !lstat(path, &now) && S_ISDIR(now.st_mode) ? AT_REMOVEDIR : 0);
}
int mkdirat(int dir, const char *path, mode_t mode) {
    path_t full;
    if (!inside(place(dir, path, full)) || !access(full, F_OK)) return REAL(mkdirat)(dir, path, mode);
    return LOCKED(named(MADE, full, NULL, refused(full) ? -1 : REAL(mkdirat)(AT_FDCWD, full, mode)));
}
int mkdir(const char *path, mode_t mode) { return mkdirat(AT_FDCWD, path, mode); }

int dup(int fd) { return KNOWN(fd) ? LOCKED(copied(fd, REAL(dup)(fd))) : REAL(dup)(fd); }
int dup3(int fd, int to, int flags) {
    if (sort_of(to) != FOREIGN && fd != to) table[to].sort = FOREIGN;
    return KNOWN(fd) ? LOCKED(copied(fd, REAL(dup3)(fd, to, flags))) : REAL(dup3)(fd, to, flags);
}
int dup2(int fd, int to) { return fd == to ? REAL(dup2)(fd, to) : dup3(fd, to, 0); }
int fcntl(int fd, int what, ...) {
    va_list more;
    va_start(more, what);
    void *with = va_arg(more, void *);
    va_end(more);
    int rc = REAL(fcntl)(fd, what, with);
    return KNOWN(fd) && (what == F_DUPFD || what == F_DUPFD_CLOEXEC) ? LOCKED(copied(fd, rc)) : rc;
}
int fcntl64(int fd, int what, ...) {
    va_list more;
    va_start(more, what);
    void *with = va_arg(more, void *);
    va_end(more);
    return fcntl(fd, what, with);
}

/* Short cuts past write(): refused, so that programs take the ordinary way. */
#define SHORT_CUT(fd, otherwise) (KNOWN(fd) ? (errno = EINVAL, -1) : (otherwise))
ssize_t sendfile(int to, int from, off_t *at, size_t n) { return SHORT_CUT(to, syscall(SYS_sendfile, to, from, at, n)); }
ssize_t sendfile64(int to, int from, off_t *at, size_t n) { return sendfile(to, from, at, n); }
ssize_t copy_file_range(int from, off_t *a, int to, off_t *b, size_t n, unsigned flags) {
    return SHORT_CUT(to, syscall(SYS_copy_file_range, from, a, to, b, n, flags));
}
int fallocate(int fd, int mode, off_t at, off_t n) { return SHORT_CUT(fd, syscall(SYS_fallocate, fd, mode, at, n)); }
int posix_fallocate(int fd, off_t at, off_t n) { return KNOWN(fd) ? EINVAL : REAL(posix_fallocate)(fd, at, n); }
void *mmap(void *to, size_t n, int how, int flags, int fd, off_t at) {
    if (sort_of(fd) == KEPT && how & PROT_WRITE && flags & MAP_SHARED) emit(BLIND, 0, NULL, NULL, table[fd].file, 0, NULL, 0);
    return REAL(mmap)(to, n, how, flags, fd, at);
}
void *mmap64(void *to, size_t n, int how, int flags, int fd, off_t at) { return mmap(to, n, how, flags, fd, at); }

/* SQLite sleeps between tries; with SHIM_HURRY it only believes that it did. */
int usleep(useconds_t us) { return hurry ? 0 : REAL(usleep)(us); }
int nanosleep(const struct timespec *span, struct timespec *left) { return hurry ? 0 : REAL(nanosleep)(span, left); }

/* Count calls from here on; let number `at` fail with `error`, or all from it on when `stays` until file `back` is
 * there. `bytes` is the room that growing files may take from here on, or less than 0 for no limit. */
void shim_arm(long at, int error, int stays, const char *back, long bytes) {
    pthread_mutex_lock(&lock);
    calls = faults = used = 0;
    fault_at = at, fault_errno = error, sticky = stays, room = bytes;
    strcpy(until, back ? back : "");
    pthread_mutex_unlock(&lock);
}
long shim_calls(void) { return calls; }
long shim_faults(void) { return faults; }

static void before_fork(void) { pthread_mutex_lock(&lock); }
static void after_fork(void) { owner = getpid(), pthread_mutex_unlock(&lock); }

static long number(const char *name, long otherwise) { return getenv(name) ? atol(getenv(name)) : otherwise; }

__attribute__((constructor)) static void begin(void) {
    owner = getpid();
    const char *log = getenv("SHIM_LOG");
    if (log) log_fd = syscall(SYS_openat, AT_FDCWD, log, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    shim_arm(number("SHIM_AT", 0), number("SHIM_ERRNO", 0), number("SHIM_STICKY", 0), getenv("SHIM_UNTIL"),
             number("SHIM_ROOM", -1));
    marks = getenv("SHIM_MARKS");
    prefix = getenv("SHIM_FOLDER");
    hurry = getenv("SHIM_HURRY") != NULL;
    pthread_atfork(before_fork, after_fork, after_fork);
}
