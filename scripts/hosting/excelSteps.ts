/** How to load the add-in into Excel, for each place where Excel runs. */

export interface Where {
  /** Full path of the manifest to load. */
  readonly manifest: string;
  /** Full path of the certificate to trust. */
  readonly authority: string;
  /** Address of the page, to try in a browser. */
  readonly page: string;
}

export function excelSteps({ manifest, authority, page }: Where): string {
  return `
The manifest:     ${manifest}
The certificate:  ${authority}

Once: trust the certificate
  Windows  certutil -user -addstore Root "${authority}"
           Say Yes when Windows asks.
  Mac      security add-trusted-cert -r trustRoot -k ~/Library/Keychains/login.keychain-db "${authority}"
  Then open ${page} in the browser: it should show a line about the pane, and no warning.
  To take the trust back: certutil -user -delstore Root "Developer CA for Microsoft Office Add-ins", or delete that
  certificate in Keychain Access.

Excel on Windows
  1. Make a folder for add-ins, copy the manifest into it, share the folder with yourself (Properties, Sharing) and note
     its network path (\\\\…).
  2. In Excel: File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs. Enter the network path as the
     catalog's address, choose Add catalog, tick Show in Menu, OK. Close Excel and open it again.
  3. Home, Add-ins, More Add-ins (or Insert, My Add-ins), Shared Folder: choose Bendbook, Add.

Excel on a Mac
  1. mkdir -p ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef
  2. cp "${manifest}" ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef/
  3. Open Excel again, open a workbook, Home, Add-ins (or Insert, the arrow beside My Add-ins): choose Bendbook.

Excel on the web, in a browser on this machine
  1. Open a workbook at office.com.
  2. Home, Add-ins, More Settings (or More Add-ins), Upload My Add-in: choose ${manifest}

Then type =BANK.BEND(0.875) in a cell, or choose Bendbook on the Home tab.
Leave this window open while you work; Ctrl-C ends it.
`;
}
