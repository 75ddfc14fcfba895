declare module '*.ttf?url' {
  /** Address of the file as the build places it. */
  const address: string
  export default address
}
