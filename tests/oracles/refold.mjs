// Reads FOLD files by two libraries that know nothing of us; prints, as JSON,
// what each makes of every file named on the command line.
import { readFileSync } from "node:fs";
import FOLD from "fold";
import ear from "rabbit-ear";

function read(name) {
  const file = JSON.parse(readFileSync(name, "utf8"));
  const { file_frames, ...pattern } = file;
  const copy = () => structuredClone(pattern);
  const byEdges = copy();
  delete byEdges.faces_vertices;
  FOLD.convert.edges_vertices_to_faces_vertices(byEdges);
  const mesh = FOLD.convert.edges_vertices_to_edges_faces_edges({
    ...copy(),
    faces_edges: [],
  });
  return {
    faults: Object.values(ear.graph.validate(copy())),
    isFold: ear.graph.isFoldObject(file),
    folded: ear.graph.makeVerticesCoordsFolded(copy()),
    facesFromEdges: byEdges.faces_vertices,
    edgesFaces: mesh.edges_faces,
    assignments: pattern.edges_foldAngle.map(ear.graph.edgeFoldAngleToAssignment),
  };
}

const found = process.argv.slice(2).map(read);
process.stdout.write(JSON.stringify(found));
