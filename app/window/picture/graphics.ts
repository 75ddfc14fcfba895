import type { WebGLRenderer } from 'three'

const soon = () => new Promise((done) => setTimeout(done, 4))

/** Resolves when all that was asked of the graphics is drawn, without holding up what else is asked. */
export async function allDrawn(renderer: WebGLRenderer): Promise<void> {
  const gl = renderer.getContext() as WebGL2RenderingContext
  const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0)
  if (!fence) return
  gl.flush()
  while (gl.clientWaitSync(fence, 0, 0) === gl.TIMEOUT_EXPIRED) await soon()
  gl.deleteSync(fence)
}

/** Resolves when all shaders that were asked for are made, without holding up what else is asked, where the graphics can tell. */
export async function shadersMade(renderer: WebGLRenderer): Promise<void> {
  const gl = renderer.getContext()
  const telling: KHR_parallel_shader_compile | null = gl.getExtension('KHR_parallel_shader_compile')
  if (!telling) return
  // Graphics that were lost answer nothing at all.
  const isMade = ({ program }: { readonly program?: unknown }) =>
    gl.getProgramParameter(program as WebGLProgram, telling.COMPLETION_STATUS_KHR) !== false
  while (!(renderer.info.programs ?? []).every(isMade)) await soon()
}

/** Rows of the graphics begin at the bottom. */
export function flipped(bytes: Uint8Array, width: number, height: number): ImageData {
  const image = new ImageData(width, height)
  for (let y = 0; y < height; y++)
    image.data.set(bytes.subarray(4 * width * (height - 1 - y), 4 * width * (height - y)), 4 * width * y)
  return image
}
