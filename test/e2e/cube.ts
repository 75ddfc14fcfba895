/** Text of a cube in the ASCII form of STL; without its last triangles it is open. */
export function cube(size: number, triangles = 12): string {
  const corners = [0, 1].flatMap((x) => [0, 1].flatMap((y) => [0, 1].map((z) => [x * size, y * size, z * size])))
  const faces = [
    [0, 1, 3, 2],
    [4, 6, 7, 5],
    [0, 4, 5, 1],
    [2, 3, 7, 6],
    [0, 2, 6, 4],
    [1, 5, 7, 3],
  ].flatMap(([a, b, c, d]) => [
    [a, b, c],
    [a, c, d],
  ])
  const facets = faces.slice(0, triangles).map((face) => {
    const vertices = face.map((i) => `vertex ${corners[i].join(' ')}`).join('\n')
    return `facet normal 0 0 0\nouter loop\n${vertices}\nendloop\nendfacet`
  })
  return `solid cube\n${facets.join('\n')}\nendsolid cube\n`
}
