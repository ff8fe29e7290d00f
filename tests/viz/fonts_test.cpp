/// Which faces of text are taken on which machine.

#include "viz/draw/fonts.hpp"

#include <catch2/catch.hpp>

#include <fstream>

using namespace leewheel::draw;
namespace fs = std::filesystem;

namespace {

struct Folder {
  fs::path path = fs::temp_directory_path() / "leewheel_fonts_test";
  Folder() { fs::remove_all(path), fs::create_directories(path); }
  ~Folder() { fs::remove_all(path); }
  void put(const std::string& file) const {
    fs::create_directories((path / file).parent_path());
    std::ofstream(path / file) << "x";
  }
};

}  // namespace

TEST_CASE("known families come first, in order, wherever they lie below", "[fonts]") {
  const Folder folder;
  CHECK_FALSE(find_fonts({folder.path, "/nonexistent"}).has_value());
  folder.put("readme.txt");
  CHECK_FALSE(find_fonts({folder.path}).has_value());
  folder.put("b/Odd.ttf");
  CHECK(find_fonts({folder.path})->bold == folder.path / "b/Odd.ttf");
  folder.put("c/Some-Regular.otf"), folder.put("c/Some-Bold.otf");
  CHECK(find_fonts({folder.path})->regular == folder.path / "c/Some-Regular.otf");
  CHECK(find_fonts({folder.path})->bold == folder.path / "c/Some-Bold.otf");
  folder.put("z/NotoSans-Regular.ttf");
  CHECK(find_fonts({folder.path})->regular == folder.path / "z/NotoSans-Regular.ttf");
  CHECK(find_fonts({folder.path})->bold == folder.path / "z/NotoSans-Regular.ttf");
  folder.put("z/deep/DejaVuSans.ttf"), folder.put("z/deep/DejaVuSans-Bold.ttf");
  CHECK(find_fonts({folder.path})->bold == folder.path / "z/deep/DejaVuSans-Bold.ttf");
}

TEST_CASE("an earlier folder goes before a better family", "[fonts]") {
  const Folder folder;
  folder.put("own/Club.ttf"), folder.put("usual/DejaVuSans.ttf");
  CHECK(find_fonts({folder.path / "own", folder.path / "usual"})->regular == folder.path / "own/Club.ttf");
}
