# cmake -DFILES=a.yaml;b.yaml -DOUT=built_in.cpp -P embed.cmake: the files as one C++ source.
set(source "#include \"evidence/built_in.hpp\"\n\nnamespace leewheel::evidence {\n\nstd::span<const BuiltInFile> built_in_files() {\n  static constexpr BuiltInFile files[] = {\n")
foreach(file IN LISTS FILES)
  file(READ "${file}" text)
  get_filename_component(name "${file}" NAME)
  string(APPEND source "      {\"tests/evidence/${name}\", R\"rows(${text})rows\"},\n")
endforeach()
string(APPEND source "  };\n  return files;\n}\n\n}  // namespace leewheel::evidence\n")
file(WRITE "${OUT}" "${source}")
