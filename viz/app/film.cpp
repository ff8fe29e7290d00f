#include "viz/app/film.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <filesystem>
#include <string_view>
#include <vector>

#include "io/atomic_file.hpp"
#include "io/fault.hpp"

extern char** environ;

namespace leewheel {
namespace {

class NumberedPictures : public Film {
 public:
  explicit NumberedPictures(std::string folder) : folder_(std::move(folder)) { make_output_folder(folder_); }
  void add(const sf::Image& picture) override { write_picture(picture, fmt::format("{}/{:05}.png", folder_, next_++)); }
  void finish() override {}

 private:
  std::string folder_;
  std::size_t next_ = 0;
};

/// Raw pictures down a pipe: packing each as .png first would cost several times the drawing.
class PipedFilm : public Film {
 public:
  PipedFilm(const std::string& path, unsigned width_px, unsigned height_px)
      : path_(path),
        part_(std::filesystem::path(path)
                  .replace_extension("part" + std::filesystem::path(path).extension().string())
                  .string()) {
    std::signal(SIGPIPE, SIG_IGN);  // a coder that stops is told by write()
    start(arguments(width_px, height_px));
  }
  PipedFilm(const PipedFilm&) = delete;
  PipedFilm& operator=(const PipedFilm&) = delete;
  ~PipedFilm() override {
    if (coder_ > 0) {
      end_coder();
      std::error_code ignored;
      std::filesystem::remove(part_, ignored);
    }
  }

  void add(const sf::Image& picture) override {
    const std::size_t bytes = std::size_t{4} * picture.getSize().x * picture.getSize().y;
    for (std::size_t done = 0; done < bytes;) {
      const ssize_t wrote = write(pipe_, picture.getPixelsPtr() + done, bytes - done);
      if (wrote < 0 && errno != EINTR) fail();
      if (wrote > 0) done += static_cast<std::size_t>(wrote);
    }
  }

  void finish() override {
    if (end_coder() != 0) fail();
    std::error_code error;
    std::filesystem::rename(part_, path_, error);
    if (error) fail();
  }

 private:
  std::vector<std::string> arguments(unsigned width_px, unsigned height_px) const {
    std::vector<std::string> words{
        "ffmpeg", "-v", "error", "-y", "-f", "rawvideo", "-pixel_format", "rgba", "-video_size",
        fmt::format("{}x{}", width_px, height_px), "-framerate", fmt::format("{:g}", film_pictures_per_s), "-i", "-",
        // players want even sides, and colours at half the resolution
        "-vf", "pad=ceil(iw/2)*2:ceil(ih/2)*2", "-pix_fmt", "yuv420p", "-map_metadata", "-1", "-fflags", "+bitexact"};
    if (path_.ends_with(".webm"))
      words.insert(words.end(),
                   {"-c:v", "libvpx-vp9", "-crf", "32", "-b:v", "0", "-deadline", "realtime", "-cpu-used", "6"});
    else
      words.insert(words.end(), {"-c:v", "libx264", "-crf", "18", "-preset", "veryfast", "-movflags", "+faststart"});
    words.push_back("file:" + part_);
    return words;
  }

  void start(std::vector<std::string> words) {
    std::vector<char*> arguments;
    for (std::string& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    int ends[2];
    if (pipe2(ends, O_CLOEXEC) != 0) fail();
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, ends[0], STDIN_FILENO);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);  // told in our own one line
    const int error = posix_spawnp(&coder_, arguments.front(), &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    close(ends[0]);
    pipe_ = ends[1];
    if (error == 0) return;
    coder_ = -1;
    close(pipe_);
    throw InputFault(
        Fault{path_, 0, 0, "", "needs ffmpeg, which is not installed; install it, or name a folder for numbered pictures"});
  }

  int end_coder() {
    close(pipe_);
    int status = 0;
    while (waitpid(coder_, &status, 0) < 0 && errno == EINTR) continue;
    coder_ = -1;
    return status;
  }

  [[noreturn]] void fail() const {
    throw InputFault(Fault{path_, 0, 0, "", "cannot be written by ffmpeg, expected a place for a film"});
  }

  std::string path_, part_;
  pid_t coder_ = -1;
  int pipe_ = -1;
};

}  // namespace

bool is_film_file(const std::string& target) { return target.ends_with(".mp4") || target.ends_with(".webm"); }

std::unique_ptr<Film> open_film(const std::string& target, unsigned width_px, unsigned height_px) {
  if (is_film_file(target)) return std::make_unique<PipedFilm>(target, width_px, height_px);
  return std::make_unique<NumberedPictures>(target);
}

void write_picture(const sf::Image& picture, const std::string& path) {
  const std::filesystem::path part = std::filesystem::path(path).replace_extension("part.png");
  std::error_code error;
  if (picture.saveToFile(part.string()))
    std::filesystem::rename(part, path, error);
  else
    error = std::make_error_code(std::errc::io_error);
  if (!error) return;
  std::error_code ignored;
  std::filesystem::remove(part, ignored);
  throw InputFault(Fault{path, 0, 0, "", "cannot be written, expected a place for a .png picture"});
}

}  // namespace leewheel
