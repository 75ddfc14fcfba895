/** What the shell itself says; everything else is said in the window. The labels' & marks the letter that Alt chooses. */
export const shellWords = {
  program: 'Gapwright',
  bay: 'Bay',
  anyFile: 'Any file',
  unsaved: {
    message: 'This bay has changes that are not saved.',
    detail: 'If you leave, they are kept aside and offered when the bay is opened again.',
    stay: 'Stay',
    leave: 'Leave without saving',
  },
  menu: {
    file: '&File',
    newWindow: '&New window',
    open: '&Open bay…',
    recent: 'Open &recent',
    noRecent: 'None yet',
    forget: 'Clear this list',
    save: '&Save',
    saveAs: 'Save &as…',
    edit: '&Edit',
    undo: '&Undo',
    redo: '&Redo',
    history: 'Undo &history…',
    view: '&View',
    help: '&Help',
    keys: 'Keys and help',
  },
} as const
