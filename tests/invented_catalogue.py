"""An invented catalogue in the open format of the real one: two files, and one that is broken."""

from __future__ import annotations

from pathlib import Path

CAMERAS = """<?xml version="1.0" encoding="utf-8"?>
<lensdatabase version="1">
  <mount><name>Larch bayonet</name><compat>Larch screw</compat></mount>
  <camera>
    <maker>Larch Optical</maker><model>Larch 40</model><mount>Larch bayonet</mount><cropfactor>2</cropfactor>
  </camera>
  <camera>
    <maker>Larch Optical</maker><model>LO-36</model><model lang="en">Larch 36</model><variant>first run</variant>
    <mount>Larch plate</mount><cropfactor>1</cropfactor>
  </camera>
  <camera><maker>Pell</maker><model>Tin box</model><mount>none</mount><cropfactor>nan</cropfactor></camera>
</lensdatabase>
"""

LENSES = """<lensdatabase version="1">
  <lens>
    <maker>Larch Optical</maker><model>Boreal 50mm f/1.8</model><model lang="de">Nordlicht 50mm</model>
    <mount>Larch bayonet</mount><cropfactor>2</cropfactor><aspect-ratio>4:3</aspect-ratio>
  </lens>
  <lens>
    <maker>Larch Optical</maker><model>Larch Boreal 18-55mm f/3.5-5.6 Macro 1:3</model>
    <mount>Larch bayonet</mount><cropfactor>2.01</cropfactor><aspect-ratio>4:3</aspect-ratio>
    <calibration>
      <distortion model="poly3" focal="18" k1="0.01"/><distortion model="poly3" focal="55" k1="0.01"/>
    </calibration>
  </lens>
  <lens>
    <maker>Larch Optical</maker><model>Boreal 50mm f/1.8 + 2x converter</model>
    <mount>Larch bayonet</mount><cropfactor>2</cropfactor>
    <calibration><vignetting model="pa" focal="100" aperture="4" distance="1" k1="0" k2="0" k3="0"/></calibration>
  </lens>
  <lens>
    <maker>Pell</maker><model>Given</model><mount>none</mount><cropfactor>5</cropfactor>
    <focal min="7" max="21"/><aperture min="2.1" max="16"/>
  </lens>
  <lens>
    <maker>Pell</maker><model>Row</model><mount>none</mount><cropfactor>5</cropfactor>
    <calibration>
      <distortion model="poly3" focal="7.9" k1="0.01"/><distortion model="poly3" focal="8" k1="0.01"/>
      <vignetting model="pa" focal="7.9" aperture="2.8" distance="1" k1="0" k2="0" k3="0"/>
      <vignetting model="pa" focal="7.9" aperture="8" distance="1" k1="0" k2="0" k3="0"/>
      <vignetting model="pa" focal="8" aperture="4" distance="1" k1="0" k2="0" k3="0"/>
    </calibration>
  </lens>
  <lens><maker>Pell</maker><model>Engraved 2,8/21</model><mount>none</mount><cropfactor>1</cropfactor></lens>
  <lens>
    <maker>Pell</maker><model>Dome 8mm f/3.5</model><mount>none</mount><type>fisheye</type><cropfactor>1</cropfactor>
  </lens>
  <lens><maker>Pell</maker><model>Bowl 15mm f/2.8 Fish-Eye</model><mount>none</mount><cropfactor>1</cropfactor></lens>
  <lens><maker>Pell</maker><model>Nameless</model><mount>none</mount><cropfactor>1</cropfactor></lens>
</lensdatabase>
"""

BROKEN = '<lensdatabase version="1"><lens><maker>Pell</maker>'


def write_catalogue(folder: Path) -> Path:
    """Write the catalogue's two good files into a folder and return it."""
    folder.mkdir(parents=True)
    (folder / "cameras.xml").write_text(CAMERAS, encoding="utf-8")
    (folder / "lenses.xml").write_text(LENSES, encoding="utf-8")
    return folder
