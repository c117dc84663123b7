"""Makes the pictures of the README from the demo; run as `python -m tests.pictures`."""

from __future__ import annotations

from pathlib import Path

import cadquery as cq
import pypdfium2
from vtkmodules import vtkRenderingOpenGL2  # noqa: F401  # brings the renderer
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals
from vtkmodules.vtkIOImage import vtkPNGWriter
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
    vtkWindowToImageFilter,
)

from generator.inputs.profile import read_profile
from generator.kernel.shapes import solid
from generator.model.assembly import X_AND_Z_OF, Placed
from generator.model.instances import instances
from generator.model.tool import design

ROOT = Path(__file__).parents[1]
DEMO = "mt2-drawbar-8"
CUT_OPEN = ("body", "plug", "button", "spring 1")
SHEET_SCALE = 1.6


def placed_shape(placed: Placed) -> cq.Shape:
    """Return a part as it stands in the tool, cut open where it hides others."""
    x, z = X_AND_Z_OF[placed.axis]
    shape = solid(placed.part).located(cq.Location(cq.Plane(placed.origin_mm, x, z)))
    if placed.name not in CUT_OPEN:
        return shape
    box = cq.Solid.makeBox(100, 200, 400, cq.Vector(0, -100, -100))
    return shape.cut(box)


def polygons(shape: cq.Shape) -> vtkPolyData:
    """Return a fine triangulation."""
    vertices, triangles = shape.tessellate(0.01, 0.1)
    points = vtkPoints()
    for vertex in vertices:
        points.InsertNextPoint(*vertex.toTuple())
    cells = vtkCellArray()
    for triangle in triangles:
        cells.InsertNextCell(3, triangle)
    data = vtkPolyData()
    data.SetPoints(points)
    data.SetPolys(cells)
    return data


def actor(data: vtkPolyData, colour: tuple[float, float, float]) -> vtkActor:
    """Return a lit surface."""
    normals = vtkPolyDataNormals()
    normals.SetInputData(data)
    normals.SetFeatureAngle(20)
    mapper = vtkPolyDataMapper()
    mapper.SetInputConnection(normals.GetOutputPort())
    made = vtkActor()
    made.SetMapper(mapper)
    made.GetProperty().SetColor(*colour)
    made.GetProperty().SetSpecular(0.35)
    made.GetProperty().SetSpecularPower(25)
    return made


def picture_of_the_tool(path: Path) -> None:
    """Write a shaded view of the tool, the body cut open."""
    tool = design(read_profile(ROOT / "profiles" / f"{DEMO}.toml"))
    renderer = vtkRenderer()
    renderer.SetBackground(1, 1, 1)
    for placed in instances(tool, tool.orientations[0], compressed=False):
        renderer.AddActor(actor(polygons(placed_shape(placed)), placed.colour))
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(8)
    window.SetSize(1400, 430)
    window.AddRenderer(renderer)
    camera = renderer.GetActiveCamera()
    camera.SetFocalPoint(0, 0, 35)
    camera.SetPosition(170, 75, -60)
    camera.SetViewUp(0, 1, 0)
    camera.ParallelProjectionOn()
    renderer.ResetCamera()
    camera.Zoom(2.35)
    window.Render()
    image = vtkWindowToImageFilter()
    image.SetInput(window)
    writer = vtkPNGWriter()
    writer.SetFileName(str(path))
    writer.SetInputConnection(image.GetOutputPort())
    writer.Write()


def picture_of_a_page(heading: str, path: Path) -> None:
    """Write the first page of the committed document on which a heading stands alone."""
    pdf = pypdfium2.PdfDocument(ROOT / "outputs" / DEMO / "bench.pdf")
    texts = [page.get_textpage().get_text_range() for page in pdf]
    number = next(n for n, text in enumerate(texts) if heading in text.splitlines() and n > 1)
    pdf[number].render(scale=SHEET_SCALE).to_pil().save(path)


if __name__ == "__main__":
    folder = ROOT / "outputs" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    picture_of_the_tool(folder / "tool.png")
    picture_of_a_page("Body", folder / "sheet.png")
    picture_of_a_page("80 Finish the taper", folder / "operation.png")
