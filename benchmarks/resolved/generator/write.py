"""Writes a question as a folder of the solver's files."""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

from resolved.generator.chemistry import OXYGEN_IN_AIR, equation, reaction, thermo
from resolved.generator.layout import (
    ROOM_TEMPERATURE,
    SLOT_TEMPERATURE,
    SURFACE_TEMPERATURES,
    Question,
    around,
    edges,
    outward,
    surface_of,
    upward,
)
from resolved.generator.mesh import OPEN, SIDES, Mesh, build, dictionary
from resolved.generator.square import square_mesh

GAS_CONSTANT = 8.314462618
PRESSURE = 101325.0
EVERY = 0.01  # between readings [s]
WALLS = ("potBottom", "potSide", "rimTop", "rimSide", "below", "highWall", "lowWall", "wick", "surface", "innerWall")


def header(kind: str, name: str) -> str:
    """Head of one of the solver's files."""
    return f"FoamFile {{version 2.0; format ascii; class {kind}; object {name};}}\n"


def put(folder: Path, path: str, text: str, kind: str = "dictionary") -> None:
    """Write one file with its head."""
    target = folder / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(header(kind, target.name) + text + "\n")


def fixed(value: str) -> str:
    return f"type fixedValue; value uniform {value};"


def through(value: str) -> str:
    """Leaves as it is, comes in as given."""
    return f"type inletOutlet; inletValue uniform {value}; value uniform {value};"


@dataclass(frozen=True)
class Boundary:
    """Conditions on every patch of a question."""

    patches: tuple[str, ...]
    sides: str  # the solver's kind of the planes on both sides
    temperatures: dict[str, float]  # of walls and burning surfaces; other walls take no heat [K]
    surfaces: dict[str, float]  # vapour that a burning surface gives to what is solved [kg/s]
    sources: tuple[str, ...]
    speed: float  # of the jets' vapour [m/s]

    def temperature(self, patch: str) -> str:
        if patch in OPEN:
            return through(f"{ROOM_TEMPERATURE:g}")
        if patch == "mouth":
            return fixed(f"{SLOT_TEMPERATURE:g}")
        return fixed(f"{self.temperatures[patch]:g}") if patch in self.temperatures else "type zeroGradient;"

    def velocity(self, patch: str) -> str:
        if patch in OPEN:
            return "type pressureInletOutletVelocity; value uniform (0 0 0);"
        if patch == "mouth":
            return f"type surfaceNormalFixedValue; refValue uniform -{self.speed:.8g}; value uniform (0 0 0);"
        if patch in self.surfaces:
            return (
                f"type flowRateInletVelocity; massFlowRate constant {self.surfaces[patch]:.8g}; rho rho; "
                "rhoInlet 1.1; value uniform (0 0 0);"
            )
        return "type slip;" if patch in ("above", "pedestal") else "type noSlip;"

    def pressure(self, patch: str) -> str:
        if patch in OPEN:
            return "type totalPressure; psi none; rho rho; p0 uniform 0; value uniform 0;"
        return "type fixedFluxPressure; value uniform 0;"

    def fraction(self, patch: str, room: float, source: float) -> str:
        """Of a species that the room's air and a source hold."""
        if patch in OPEN:
            return through(f"{room:g}")
        if patch == "mouth":
            return fixed(f"{source:g}")
        if patch in self.surfaces:
            return (
                f"type totalFlowRateAdvectiveDiffusive; phi phi; rho none; massFluxFraction {source:g}; "
                f"value uniform {source:g};"
            )
        return "type zeroGradient;"


def pool_patch(question: Question) -> str:
    """The patch on which a pool burns."""
    return "rimTop" if question.well_radius is None else "surface"


def boundary_of(question: Question, mesh: Mesh) -> Boundary:
    """Conditions of a question on the patches of its mesh."""
    fuel = reaction(question.fuel)
    wall, rim, pot = question.high_wall_temperature, question.rim_temperature, question.pot_temperature
    temperatures = {"rimTop": rim, "rimSide": rim, "below": wall, "potBottom": pot, "potSide": pot}
    if question.low_wall_temperature is not None:
        temperatures |= {"lowWall": question.low_wall_temperature, "highWall": wall}
    if question.well_radius is not None:
        temperatures |= {"innerWall": wall}
    surfaces = {}
    for patch, power in (("wick", question.wick), (pool_patch(question), question.pool)):
        if power > 0.0:
            surfaces[patch] = power / fuel.heating_value / question.sectors
            temperatures[patch] = SURFACE_TEMPERATURES[question.fuel]
    sources = (*surfaces, "mouth") if question.jets > 0.0 else tuple(surfaces)
    density = PRESSURE * fuel.molar_mass / (GAS_CONSTANT * SLOT_TEMPERATURE)
    speed = question.jets / fuel.heating_value / density / question.mouths
    return Boundary(tuple(mesh.patches), mesh.sides, temperatures, surfaces, sources, speed)


def write(question: Question, folder: Path) -> Mesh:
    """Write a question's case into a folder, and `question.json` beside it."""
    up, out = upward(question), outward(question)
    if question.square:
        mesh = square_mesh(question)
    else:
        mesh = build(up, out, around(question), surface_of(question), question.gap is not None)
    boundary = boundary_of(question, mesh)
    put(folder, "system/blockMeshDict", dictionary(mesh))
    write_fields(question, boundary, folder)
    write_constants(question, up[-1].end, folder)
    write_settings(question, boundary, folder)
    record = {"question": asdict(question), "cells": mesh.cells, "radii": edges(out), "heights": edges(up)}
    (folder / "question.json").write_text(json.dumps(record))
    return mesh


def write_fields(question: Question, boundary: Boundary, folder: Path) -> None:
    """The first instant: still air of the room."""

    def scalar(name: str, dimensions: str, inside: str, condition: dict[str, str]) -> None:
        patches = "\n".join(f"{patch} {{{text}}}" for patch, text in condition.items())
        kind = "volVectorField" if inside.startswith("(") else "volScalarField"
        text = f"dimensions [{dimensions}];\ninternalField uniform {inside};\nboundaryField\n{{\n{patches}\n}}"
        put(folder, f"0/{name}", text, kind)

    def everywhere(make: Callable[[str], str]) -> dict[str, str]:
        side = f"type {boundary.sides};"
        return {patch: side if patch in SIDES else make(patch) for patch in boundary.patches}

    scalar("T", "0 0 0 1 0 0 0", f"{ROOM_TEMPERATURE:g}", everywhere(boundary.temperature))
    scalar("U", "0 1 -1 0 0 0 0", "(0 0 0)", everywhere(boundary.velocity))
    scalar("p_rgh", "1 -1 -2 0 0 0 0", "0", everywhere(boundary.pressure))
    calculated = everywhere(lambda patch: f"type calculated; value uniform {PRESSURE:g};")
    scalar("p", "1 -1 -2 0 0 0 0", f"{PRESSURE:g}", calculated)
    for name, dimensions in (("alphat", "1 -1 -1 0 0 0 0"), ("nut", "0 2 -1 0 0 0 0")):
        scalar(name, dimensions, "0", everywhere(lambda patch: "type zeroGradient;"))
    air = {"O2": OXYGEN_IN_AIR, "N2": 1.0 - OXYGEN_IN_AIR}
    for name in ("O2", "N2", "CO2", "H2O", reaction(question.fuel).species):
        room = air.get(name, 0.0)
        source = 1.0 if name == reaction(question.fuel).species else 0.0
        made = everywhere(lambda patch, room=room, source=source: boundary.fraction(patch, room, source))
        scalar(name, "0 0 0 0 0 0 0", f"{room:g}", made)


def write_constants(question: Question, top: float, folder: Path) -> None:
    """What does not change: gravity, gas, reaction; models that are off."""
    fuel = reaction(question.fuel).species
    constant = "uniformDimensionedScalarField"
    put(folder, "constant/g", "dimensions [0 1 -2 0 0 0 0]; value (0 0 -9.81);", "uniformDimensionedVectorField")
    put(folder, "constant/hRef", f"dimensions [0 1 0 0 0 0 0]; value {top:g};", constant)
    put(folder, "constant/pRef", f"dimensions [1 -1 -2 0 0 0 0]; value {PRESSURE:g};", constant)
    put(folder, "constant/additionalControls", "solvePrimaryRegion true;")
    off = "pyrolysis {active false; pyrolysisModel none; region panelRegion; infoOutput false;}"
    put(folder, "constant/pyrolysisZones", off)
    put(folder, "constant/surfaceFilmProperties", "surfaceFilmModel none; region none; active false;")
    put(folder, "constant/reactingCloud1Properties", "solution {active false;}")
    put(folder, "constant/radiationProperties", "radiation off; radiationModel none;")
    put(folder, "constant/turbulenceProperties", "simulationType laminar;")
    fast = "infinitelyFastChemistryCoeffs {semiImplicit no; C 1.0;}"
    put(folder, "constant/combustionProperties", f"combustionModel infinitelyFastChemistry; active true; {fast}")
    model = (
        "type hePsiThermo; mixture singleStepReactingMixture; transport sutherland; thermo janaf; "
        "energy sensibleEnthalpy; equationOfState perfectGas; specie specie;"
    )
    files = (
        'chemistryReader foamChemistryReader; foamChemistryFile "<constant>/reactions"; '
        'foamChemistryThermoFile "<constant>/thermo.compressibleGas";'
    )
    properties = f"thermoType {{{model}}}\ninertSpecie N2; fuel {fuel}; {files}"
    put(folder, "constant/thermophysicalProperties", properties)
    burning = f'reactions {{burning {{type irreversibleinfiniteReaction; reaction "{equation(question.fuel)}";}}}}'
    put(folder, "constant/reactions", f"species (O2 H2O {fuel} CO2 N2);\n{burning}")
    put(folder, "constant/thermo.compressibleGas", thermo(question.fuel))


def readings(question: Question, boundary: Boundary) -> str:
    """What the solver notes as it goes: heat to walls, heat released, flows through what is open."""
    often = (
        'libs ("libfieldFunctionObjects.so"); writeControl adjustableRunTime; '
        f"writeInterval {EVERY:g}; log false; writeFields false;"
    )
    walls = [patch for patch in boundary.patches if patch in WALLS and patch in boundary.temperatures]
    found = [
        f'walls {{type wallHeatFlux; libs ("libfieldFunctionObjects.so"); writeControl adjustableRunTime; '
        f"writeInterval {EVERY:g}; executeControl adjustableRunTime; executeInterval {EVERY:g}; "
        f"patches ({' '.join(walls)});}}",
        f"released {{type volFieldValue; {often} regionType all; operation volIntegrate; fields (Qdot);}}",
    ]
    fuel = reaction(question.fuel).species
    for patch in (*OPEN, *boundary.sources):
        place = f"type surfaceFieldValue; {often} regionType patch; name {patch};"
        carried = f"operation weightedSum; weightField phi; fields (h {fuel});"
        found.append(f"{patch}Heat {{{place} {carried}}}")
        found.append(f"{patch}Mass {{{place} operation sum; fields (phi);}}")
    return "\n".join(found)


def write_settings(question: Question, boundary: Boundary, folder: Path) -> None:
    """Steps, schemes and solvers. More outer correctors or larger steps run away to 5000 K."""
    fuel = reaction(question.fuel).species
    put(
        folder,
        "system/controlDict",
        "application fireFoam; startFrom latestTime; startTime 0; stopAt endTime; "
        f"endTime {question.seconds:g}; deltaT 1e-5; writeControl adjustableRunTime; writeInterval 0.1; "
        "purgeWrite 3; writeFormat ascii; writePrecision 8; writeCompression off; timeFormat general; "
        "timePrecision 6; runTimeModifiable yes; adjustTimeStep yes; "
        f"maxCo {question.courant:g}; maxDi 1000; maxDeltaT 1e-3;\n"
        f"functions\n{{\n{readings(question, boundary)}\n}}",
    )
    shares = " ".join(f"{name} limitedLinear01 1;" for name in ("O2", "N2", fuel, "CO2", "H2O"))
    put(
        folder,
        "system/fvSchemes",
        "ddtSchemes {default Euler;} gradSchemes {default Gauss linear;}\n"
        "divSchemes {default none; div(phi,U) Gauss limitedLinearV 1; div(phi,K) Gauss limitedLinear 1; "
        "div(phi,h) Gauss limitedLinear 1; "
        f"div(phi,Yi_h) Gauss multivariateSelection {{{shares} h limitedLinear 1;}}; "
        "div(((rho*nuEff)*dev2(T(grad(U))))) Gauss linear; div(phiU,p) Gauss linear;}\n"
        "laplacianSchemes {default Gauss linear corrected;} interpolationSchemes {default linear;} "
        "snGradSchemes {default corrected;} fluxRequired {default no; p_rgh;}",
    )
    put(
        folder,
        "system/fvSolution",
        'solvers {"(rho|rhoFinal)" {solver diagonal;}\n'
        "p_rgh {solver PCG; preconditioner DIC; tolerance 1e-6; relTol 0.05;} "
        "p_rghFinal {$p_rgh; tolerance 1e-7; relTol 0.01;}\n"
        f'"(U|Yi|h|O2|H2O|CO2|{fuel}|N2).*" '
        "{solver PBiCGStab; preconditioner DILU; tolerance 1e-8; relTol 0.05;}\nph_rgh {$p_rgh;}}\n"
        "PIMPLE {momentumPredictor yes; nOuterCorrectors 1; nCorrectors 2; nNonOrthogonalCorrectors 0; "
        "hydrostaticInitialization no; nHydrostaticCorrectors 0;}\n"
        'relaxationFactors {equations {".*" 1;}}',
    )
