/* Makes the n-th write, sync, open, close, rename, mkdir, unlink, truncation or lock of a
 * program fail, or ends the program there. Loaded by LD_PRELOAD; what it does is said by
 * the environment:
 *
 *   FAULTS_UNDER  a folder: only calls on files under it count, and writes to the
 *                 standard output
 *   FAULTS_AT     which of these calls, from 1; 0 for none
 *   FAULTS_KIND   eio      that call fails with EIO
 *                 full     that call and every later one that needs room fails with
 *                          ENOSPC; a write puts down half of its bytes first
 *                 gone     that call and every later one fails with EIO
 *                 before   the program is killed instead of the call
 *                 half     the program is killed after the call, or after half of a write
 *   FAULTS_LOG    a file; gets a line for each call
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

enum kind { EIO_ONCE, FULL, GONE, BEFORE, HALF };
/* What a call needs of the disk. */
enum need { NO_ROOM, ROOM };
/* What becomes of a call. */
enum fate { GOES_ON, FAILS, HALF_THEN_FAILS, HALF_THEN_KILLED };

#define MOST_FILES 1024
static char ours[MOST_FILES];
static const char *under;
static size_t under_length;
static long at, count;
static enum kind kind;
static int log_file = -1;

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))

__attribute__((constructor)) static void begin(void) {
    under = getenv("FAULTS_UNDER");
    under_length = under ? strlen(under) : 0;
    const char *n = getenv("FAULTS_AT"), *k = getenv("FAULTS_KIND"), *l = getenv("FAULTS_LOG");
    at = n ? atol(n) : 0;
    if (k) {
        kind = !strcmp(k, "full")     ? FULL
               : !strcmp(k, "gone")   ? GONE
               : !strcmp(k, "before") ? BEFORE
               : !strcmp(k, "half")   ? HALF
                                      : EIO_ONCE;
    }
    if (l) log_file = (int)syscall(SYS_openat, AT_FDCWD, l, O_WRONLY | O_CREAT | O_APPEND, 0600);
    ours[STDOUT_FILENO] = 1;
    /* A house's scripts run in a process of their own, within bounds that leave no room for this. */
    unsetenv("LD_PRELOAD");
}

static void die(void) {
    kill(getpid(), SIGKILL);
    for (;;) pause();
}

static int is_under(const char *path) {
    char here[PATH_MAX], all[2 * PATH_MAX];
    if (!under || !path) return 0;
    if (path[0] != '/') {
        if (!getcwd(here, sizeof here)) return 0;
        snprintf(all, sizeof all, "%s/%s", here, path);
        path = all;
    }
    return !strncmp(path, under, under_length) && (path[under_length] == '/' || !path[under_length]);
}

static int is_ours(int fd) { return fd >= 0 && fd < MOST_FILES && ours[fd]; }

/* Counts a call; says what becomes of it, and sets errno. */
static enum fate next(const char *name, const char *of, enum need need) {
    count++;
    if (log_file >= 0) {
        char line[PATH_MAX + 64];
        int n = snprintf(line, sizeof line, "%s %s\n", name, of ? of : "");
        syscall(SYS_write, log_file, line, n);
    }
    if (!at || count < at) return GOES_ON;
    switch (kind) {
    case EIO_ONCE:
        errno = EIO;
        return count == at ? FAILS : GOES_ON;
    case GONE:
        errno = EIO;
        return FAILS;
    case FULL:
        errno = ENOSPC;
        if (need == NO_ROOM) return GOES_ON;
        return count == at ? HALF_THEN_FAILS : FAILS;
    case BEFORE:
        die();
        return FAILS;
    case HALF:
        return HALF_THEN_KILLED;
    }
    return GOES_ON;
}

/* For a call that has no half. */
#define WHOLE_CALL(result_type, chosen, call)                                                        \
    do {                                                                                           \
        enum fate f = (chosen);                                                                    \
        if (f == FAILS || f == HALF_THEN_FAILS) return -1;                                         \
        result_type result = (call);                                                               \
        if (f == HALF_THEN_KILLED) die();                                                          \
        return result;                                                                             \
    } while (0)

static int opened(const char *name, int folder, const char *path, int flags, mode_t mode) {
    int counts = (folder == AT_FDCWD || path[0] == '/') && is_under(path);
    enum fate f = counts ? next(name, path, flags & O_CREAT ? ROOM : NO_ROOM) : GOES_ON;
    if (f == FAILS || f == HALF_THEN_FAILS) return -1;
    int fd = (int)syscall(SYS_openat, folder, path, flags, mode);
    if (f == HALF_THEN_KILLED) die();
    if (fd >= 0 && fd < MOST_FILES) ours[fd] = (char)counts;
    return fd;
}

#define WITH_MODE(flags)                                                                           \
    mode_t mode = 0;                                                                               \
    if ((flags) & (O_CREAT | O_TMPFILE)) {                                                         \
        va_list rest;                                                                              \
        va_start(rest, flags);                                                                     \
        mode = (mode_t)va_arg(rest, int);                                                          \
        va_end(rest);                                                                              \
    }

int open(const char *path, int flags, ...) { WITH_MODE(flags) return opened("open", AT_FDCWD, path, flags, mode); }
int open64(const char *path, int flags, ...) { WITH_MODE(flags) return opened("open", AT_FDCWD, path, flags, mode); }
int openat(int folder, const char *path, int flags, ...) { WITH_MODE(flags) return opened("open", folder, path, flags, mode); }
int openat64(int folder, const char *path, int flags, ...) { WITH_MODE(flags) return opened("open", folder, path, flags, mode); }

static const char *name_of(int fd) { return fd == STDOUT_FILENO ? "stdout" : "file"; }

static ssize_t written(int fd, const void *bytes, size_t length) {
    if (!is_ours(fd)) return syscall(SYS_write, fd, bytes, length);
    switch (next("write", name_of(fd), ROOM)) {
    case FAILS:
        return -1;
    case HALF_THEN_FAILS:
        /* A full disk takes what there is room for; the next write fails. */
        if (length / 2) return syscall(SYS_write, fd, bytes, length / 2);
        errno = ENOSPC;
        return -1;
    case HALF_THEN_KILLED:
        syscall(SYS_write, fd, bytes, length / 2);
        die();
        return -1;
    case GOES_ON:
        break;
    }
    return syscall(SYS_write, fd, bytes, length);
}

ssize_t write(int fd, const void *bytes, size_t length) { return written(fd, bytes, length); }

ssize_t writev(int fd, const struct iovec *parts, int number) {
    for (int i = 0; i < number; i++)
        if (parts[i].iov_len) return written(fd, parts[i].iov_base, parts[i].iov_len);
    return 0;
}

int fsync(int fd) { WHOLE_CALL(int, is_ours(fd) ? next("fsync", name_of(fd), NO_ROOM) : GOES_ON, (int)syscall(SYS_fsync, fd)); }
int fdatasync(int fd) { WHOLE_CALL(int, is_ours(fd) ? next("fdatasync", name_of(fd), NO_ROOM) : GOES_ON, (int)syscall(SYS_fdatasync, fd)); }
int ftruncate(int fd, off_t length) { WHOLE_CALL(int, is_ours(fd) ? next("ftruncate", name_of(fd), NO_ROOM) : GOES_ON, (int)syscall(SYS_ftruncate, fd, length)); }
int ftruncate64(int fd, off64_t length) { WHOLE_CALL(int, is_ours(fd) ? next("ftruncate", name_of(fd), NO_ROOM) : GOES_ON, (int)syscall(SYS_ftruncate, fd, length)); }
int flock(int fd, int how) { WHOLE_CALL(int, is_ours(fd) ? next("flock", name_of(fd), NO_ROOM) : GOES_ON, (int)syscall(SYS_flock, fd, how)); }

int close(int fd) {
    int counts = fd != STDOUT_FILENO && is_ours(fd);
    if (fd >= 0 && fd < MOST_FILES && fd != STDOUT_FILENO) ours[fd] = 0;
    enum fate f = counts ? next("close", "file", NO_ROOM) : GOES_ON;
    int because = errno;
    int result = (int)syscall(SYS_close, fd);
    if (f == HALF_THEN_KILLED) die();
    if (f == FAILS || f == HALF_THEN_FAILS) {
        errno = because;
        return -1;
    }
    return result;
}

int rename(const char *from, const char *to) { WHOLE_CALL(int, is_under(to) ? next("rename", to, ROOM) : GOES_ON, REAL(rename)(from, to)); }
int mkdir(const char *path, mode_t mode) { WHOLE_CALL(int, is_under(path) ? next("mkdir", path, ROOM) : GOES_ON, REAL(mkdir)(path, mode)); }
int rmdir(const char *path) { WHOLE_CALL(int, is_under(path) ? next("rmdir", path, NO_ROOM) : GOES_ON, REAL(rmdir)(path)); }
int unlink(const char *path) { WHOLE_CALL(int, is_under(path) ? next("unlink", path, NO_ROOM) : GOES_ON, REAL(unlink)(path)); }
int unlinkat(int folder, const char *path, int flags) { WHOLE_CALL(int, under ? next("unlinkat", path, NO_ROOM) : GOES_ON, REAL(unlinkat)(folder, path, flags)); }
