# Every C++ source is laid out as .clang-format says. cmake -DROOT=<checkout> -DCLANG_FORMAT=<program> -P formatted.cmake
file(GLOB_RECURSE files ${ROOT}/include/*.hpp ${ROOT}/sim/*.hpp ${ROOT}/sim/*.cpp ${ROOT}/viz/*.hpp ${ROOT}/viz/*.cpp
  ${ROOT}/tests/*.hpp ${ROOT}/tests/*.cpp)
execute_process(COMMAND ${CLANG_FORMAT} --dry-run -Werror ${files} RESULT_VARIABLE differs ERROR_VARIABLE where)
if(differs)
  message(FATAL_ERROR "clang-format -i would change:\n${where}")
endif()
