# Installs BUILD below WORK, looks for what must be there, builds the consumer against it and runs both from elsewhere.
file(REMOVE_RECURSE ${WORK})
function(run)
  execute_process(COMMAND ${ARGN} WORKING_DIRECTORY ${WORK} RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "${ARGN}: ${failed}\n${said}")
  endif()
endfunction()
file(MAKE_DIRECTORY ${WORK})

run(${CMAKE_COMMAND} --install ${BUILD} --prefix ${WORK}/prefix)
foreach(pattern bin/leewheel include/leewheel/ride.hpp lib*/leewheelConfig.cmake share/man/man1/leewheel-ride.1 share/man/man1/leewheel.1
        share/bash-completion/completions/leewheel share/zsh/vendor-completions/_leewheel share/fish/vendor_completions.d/leewheel.fish
        share/leewheel/scenarios/larkmoor/scenario.yaml share/leewheel/schemas/summary.schema.json share/doc/leewheel/copyright)
  if(pattern MATCHES "^lib")
    file(GLOB_RECURSE found ${WORK}/prefix/lib/leewheelConfig.cmake)
  else()
    file(GLOB found ${WORK}/prefix/${pattern})
  endif()
  if(NOT found)
    message(FATAL_ERROR "not installed: ${pattern}")
  endif()
endforeach()

run(${WORK}/prefix/bin/leewheel shelter --rider light_climber)
run(${WORK}/prefix/bin/leewheel ride ${WORK}/prefix/share/leewheel/scenarios/larkmoor -o ridden --one --quiet)

run(${CMAKE_COMMAND} -S ${CONSUMER} -B consumer -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=${COMPILER}
    -DCMAKE_PREFIX_PATH=${WORK}/prefix)
run(${CMAKE_COMMAND} --build consumer)
run(consumer/consumer)
