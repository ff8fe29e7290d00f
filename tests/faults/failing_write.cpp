/// Preloaded into a program: the n-th write into a regular file fails as on a full disk (LEEWHEEL_FAULT_AT=n), alone or, with
/// LEEWHEEL_FAULT_ON=1, with all that follow. Standard streams are left alone. LEEWHEEL_FAULT_TOLD names a file that exists once it failed.

#include <dlfcn.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdlib>

namespace {

std::atomic<long> writes{0};

bool fails(int file) {
  struct stat about {};
  if (file <= STDERR_FILENO || fstat(file, &about) != 0 || !S_ISREG(about.st_mode)) return false;
  static const char* const at = std::getenv("LEEWHEEL_FAULT_AT");
  static const bool on = std::getenv("LEEWHEEL_FAULT_ON") != nullptr;
  static const long number = at ? std::atol(at) : 0;
  const long now = ++writes;
  if (number == 0 || (on ? now < number : now != number)) return false;
  if (const char* told = std::getenv("LEEWHEEL_FAULT_TOLD")) close(open(told, O_CREAT | O_WRONLY | O_CLOEXEC, 0666));
  errno = ENOSPC;
  return true;
}

template <class Function>
Function real(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}

}  // namespace

extern "C" {

ssize_t write(int file, const void* bytes, size_t count) {
  static const auto next = real<ssize_t (*)(int, const void*, size_t)>("write");
  return fails(file) ? -1 : next(file, bytes, count);
}

ssize_t writev(int file, const iovec* pieces, int count) {
  static const auto next = real<ssize_t (*)(int, const iovec*, int)>("writev");
  return fails(file) ? -1 : next(file, pieces, count);
}

ssize_t pwrite(int file, const void* bytes, size_t count, off_t at) {
  static const auto next = real<ssize_t (*)(int, const void*, size_t, off_t)>("pwrite");
  return fails(file) ? -1 : next(file, bytes, count, at);
}

ssize_t pwrite64(int file, const void* bytes, size_t count, off64_t at) {
  static const auto next = real<ssize_t (*)(int, const void*, size_t, off64_t)>("pwrite64");
  return fails(file) ? -1 : next(file, bytes, count, at);
}
}
