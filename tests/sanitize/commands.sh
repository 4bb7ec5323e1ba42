# The commands that other builds are held to, read with `.` from the project's top folder. Small questions, so that slow
# builds can ask them too: every command that computes, each kernel of light, and what brings its own code (trains, films,
# heat that goes sideways, films of cold).
# `commands DO` calls `DO NAME ARGUMENTS...` for each; `few DO` for those two that show the most in the least time.
few() {
    "$1" run run --no-figures scenarios/hand_532nm.yaml
    "$1" spread spread --no-figures --draws 32 scenarios/hand_532nm.yaml
}

commands() {
    few "$1"
    "$1" layered run --no-figures --set light.method=layered scenarios/forearm_light_532nm.yaml
    "$1" sampled run --no-figures --set light.method=sampled --set light.photons=3000 scenarios/hand_532nm.yaml
    "$1" train run --no-figures --set light.count=5 --set light.rate='10 /s' scenarios/cheek_1064nm.yaml
    "$1" plate run --no-figures scenarios/reference/cheek_1064nm_plate.yaml
    "$1" film run --no-figures scenarios/film_soot_1064nm.yaml
    "$1" sideways run --no-figures --set light.pulse='1 ms' scenarios/deeper_pigment_1064nm.yaml
    "$1" compare compare --no-figures scenarios/compare/wavelengths.yaml
    "$1" window window --no-figures scenarios/hand_532nm.yaml
    "$1" sweep sweep --no-figures --vary light.spot=2mm..10mm:3 scenarios/hand_532nm.yaml
    "$1" visits visits --no-figures scenarios/visits_once_1064nm.yaml
    "$1" ladder ladder scenarios/test_spots_694nm.yaml
    "$1" cover cover --no-figures scenarios/cover_cheek_1064nm.yaml
    "$1" room room scenarios/room_1064nm.yaml
    "$1" colour colour --no-figures scenarios/measured_colour_532nm.yaml
    "$1" output output --no-figures scenarios/readings/weekly_1064nm.csv scenarios/cheek_1064nm.yaml
    "$1" reported reported --no-figures scenarios/cheek_1064nm.yaml
    "$1" lesson lesson --no-figures --answers why_nanoseconds
    "$1" numbers lesson --no-figures --seed 7 --answers numbers
}
