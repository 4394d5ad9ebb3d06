/* Stands between a program and its files (LD_PRELOAD): writes down, in order, what the program does to files below one
 * folder, and lets a chosen call fail as a full, read-only or broken disk would. Other files are left alone.
 *
 * Settings come from the environment, see shim.py; a Python program may also call shim_arm() by ctypes. One lock is
 * held around each call, so the log's order is the order in which things happened. Not seen: what is written through
 * a shared mapping (noted as BLIND, except for SQLite's -shm file, which is rebuilt at every open and never logged;
 * its calls can fail all the same), stdio streams of C code, and children that were made with vfork. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <time.h>
#include <unistd.h>

_Static_assert(sizeof(off_t) == 8, "file offsets of 64 bits");

enum kind { OPENED = 1, WROTE, RESIZED, SYNCED, RENAMED, LINKED, UNLINKED, MADE, CLOSED, MARKED, FAILED, BLIND };
enum sort { FOREIGN, KEPT, INDEX, MARKS, FOLDER };
struct head { uint8_t kind, error; uint16_t path, other, spare; uint64_t file, at, length; };
typedef char path_t[PATH_MAX];

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static struct { uint8_t sort; uint64_t file; } table[4096];
static const char *prefix, *marks;
static int log_fd = -1, fault_errno, sticky, hurry;
static char until[PATH_MAX];
static pid_t owner;
static long calls, faults, fault_at, room = -1, used;

#define REAL(name) ({ static typeof(&name) real_; if (!real_) real_ = dlsym(RTLD_NEXT, #name); real_; })
#define LOCKED(expr) ({ pthread_mutex_lock(&lock); typeof(expr) rc_ = (expr); int e_ = errno; \
    pthread_mutex_unlock(&lock); errno = e_; rc_; })

static void emit(int kind, int error, const char *path, const char *other, uint64_t file, uint64_t at, const void *data,
                 size_t length) {
    int before = errno;
    struct head head = {kind, error, path ? strlen(path) : 0, other ? strlen(other) : 0, 0, file, at, data ? length : 0};
    struct iovec parts[] = {{&head, sizeof head}, {(void *)path, head.path}, {(void *)other, head.other},
                            {(void *)data, head.length}};
    if (log_fd >= 0 && syscall(SYS_writev, log_fd, parts, 4) != (long)(sizeof head + head.path + head.other + head.length))
        abort(); /* a log with a hole proves nothing */
    errno = before;
}

static int sort_of(int fd) { return fd >= 0 && fd < 4096 && owner == getpid() ? table[fd].sort : FOREIGN; }

static const char *place(int dir, const char *path, path_t out) {
    if (path[0] == '/') return strcpy(out, path);
    path_t link;
    snprintf(link, sizeof link, dir == AT_FDCWD ? "/proc/self/cwd" : "/proc/self/fd/%d", dir);
    ssize_t n = readlink(link, out, sizeof(path_t) - strlen(path) - 2);
    if (n < 0) n = 0;
    out[n] = '/';
    return strcpy(out + n + 1, path), out;
}

static int inside(const char *path) {
    size_t n = prefix ? strlen(prefix) : 0;
    return n && owner == getpid() && !strncmp(path, prefix, n) && (path[n] == '/' || !path[n]);
}

/* Whether this call is to fail; it is counted either way. */
static int refused(const char *path) {
    calls++;
    int due = fault_errno && fault_at && (sticky ? calls >= fault_at : calls == fault_at);
    if (!due || (sticky && until[0] && !access(until, F_OK))) return 0;
    faults++;
    emit(FAILED, fault_errno, path, NULL, 0, calls, NULL, 0);
    errno = fault_errno;
    return 1;
}

static int refused_fd(int fd) {
    path_t link, path;
    if (!fault_at) return calls++, 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    path[n < 0 ? 0 : n] = 0;
    return refused(path);
}

/* How many of these bytes the room left takes. */
static size_t fitting(int fd, off_t at, size_t n) {
    struct stat now;
    if (room < 0 || fstat(fd, &now) || (until[0] && !access(until, F_OK))) return n;
    if (at < 0) at = fcntl(fd, F_GETFL) & O_APPEND ? now.st_size : lseek(fd, 0, SEEK_CUR);
    long over = at + (long)n - now.st_size;
    if (over <= 0) return n;
    long fits = used + over <= room ? (long)n : (long)n - (used + over - room);
    if (fits <= 0) { faults++; emit(FAILED, ENOSPC, NULL, NULL, table[fd].file, calls, NULL, 0); errno = ENOSPC; return 0; }
    used += over - ((long)n - fits) > 0 ? over - ((long)n - fits) : 0;
    return fits;
}

static ssize_t put(int fd, const char *bytes, size_t n, off_t at) {
    int sort = sort_of(fd);
    if (sort != MARKS && refused_fd(fd)) return -1;
    if (sort != MARKS && n && !(n = fitting(fd, at, n))) return -1;
    ssize_t rc = at < 0 ? REAL(write)(fd, bytes, n) : REAL(pwrite)(fd, bytes, n, at);
    if (rc <= 0 || sort == INDEX) return rc;
    if (sort == MARKS) emit(MARKED, 0, NULL, NULL, 0, 0, bytes, rc);
    else emit(WROTE, 0, NULL, NULL, table[fd].file, at < 0 ? lseek(fd, 0, SEEK_CUR) - rc : at, bytes, rc);
    return rc;
}

static ssize_t put_all(int fd, const struct iovec *parts, int count, off_t at) {
    size_t n = 0;
    for (int i = 0; i < count; i++) n += parts[i].iov_len;
    char *flat = malloc(n + 1), *end = flat;
    for (int i = 0; i < count; i++) end = mempcpy(end, parts[i].iov_base, parts[i].iov_len);
    ssize_t rc = put(fd, flat, n, at);
    free(flat);
    return rc;
}

static int open_seen(int dir, const char *path, int flags, mode_t mode) {
    struct stat now;
    int there = !fstatat(dir, path, &now, 0);
    if (marks && !strcmp(path, marks)) {
        int fd = REAL(openat)(dir, path, flags, mode);
        if (fd >= 0 && fd < 4096) table[fd].sort = MARKS;
        return fd;
    }
    if ((flags & (O_CREAT | O_TRUNC) || (flags & O_ACCMODE) != O_RDONLY) && refused(path)) return -1;
    int fd = REAL(openat)(dir, path, flags, mode);
    if (fd < 0) return fd;
    if (fd >= 4096 || fstat(fd, &now)) abort();
    int index = strlen(path) > 4 && !strcmp(path + strlen(path) - 4, "-shm");
    table[fd].sort = S_ISDIR(now.st_mode) ? FOLDER : !S_ISREG(now.st_mode) ? FOREIGN : index ? INDEX : KEPT;
    table[fd].file = now.st_ino;
    if (table[fd].sort == KEPT) emit(OPENED, 0, path, NULL, now.st_ino, !there, NULL, 0);
    if (table[fd].sort == KEPT && there && flags & O_TRUNC) emit(RESIZED, 0, NULL, NULL, now.st_ino, 0, NULL, 0);
    return fd;
}

static int opened(int dir, const char *path, int flags, mode_t mode) {
    path_t full;
    int dull = !inside(place(dir, path, full)) && !(marks && !strcmp(full, marks));
    return dull ? REAL(openat)(dir, path, flags, mode) : LOCKED(open_seen(AT_FDCWD, full, flags, mode));
}

static int sync_seen(int fd, int rc) {
    path_t link, path = "";
    if (rc || sort_of(fd) == INDEX) return rc;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    if (sort_of(fd) == FOLDER && readlink(link, path, sizeof path - 1) < 0) abort();
    emit(SYNCED, 0, path, NULL, table[fd].file, 0, NULL, 0);
    return 0;
}

static int resize_seen(int fd, off_t size) {
    struct stat now;
    if (refused_fd(fd)) return -1;
    fstat(fd, &now);
    int rc = REAL(ftruncate)(fd, size);
    if (!rc && size < now.st_size) used -= now.st_size - size;
    if (!rc && sort_of(fd) == KEPT) emit(RESIZED, 0, NULL, NULL, table[fd].file, size, NULL, 0);
    return rc;
}

static int close_seen(int fd) {
    if (table[fd].sort == KEPT) emit(CLOSED, 0, NULL, NULL, table[fd].file, 0, NULL, 0);
    table[fd].sort = FOREIGN;
    return REAL(close)(fd);
}

static int gone(int dir, const char *path, int flags) {
    struct stat now;
    if (refused(path)) return -1;
    int known = !fstatat(dir, path, &now, AT_SYMLINK_NOFOLLOW), rc = REAL(unlinkat)(dir, path, flags);
    if (!rc && known && !(flags & AT_REMOVEDIR) && now.st_nlink == 1) used -= now.st_size;
    if (!rc) emit(UNLINKED, 0, path, NULL, 0, 0, NULL, 0);
    return rc;
}

static int copied(int fd, int rc) { /* a descriptor that now stands for the same file */
    if (rc >= 0 && rc < 4096 && rc != fd) table[rc] = table[fd];
    return rc;
}

static int named(int kind, const char *old, const char *new, int rc) {
    if (!rc) emit(kind, 0, old, new, 0, 0, NULL, 0);
    return rc;
}
