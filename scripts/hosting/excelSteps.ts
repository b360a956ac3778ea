/**
 * How to load the add-in into Excel, for each place where Excel runs, and what to do when that does not work. After
 * Microsoft's pages "Sideload Office Add-ins for testing" (network share, Mac, the web), "Clear the Office cache" and
 * "Troubleshoot development errors", and Chrome's notes on Local Network Access; read in 2026.
 */

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
  1. Make a folder for add-ins, copy the manifest into it, share the folder with yourself (Properties, Sharing, Share)
     and note its network path (\\\\…).
  2. In Excel: File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs. Enter the network path as
     Catalog Url, choose Add catalog, tick Show in Menu, OK, OK. Close Excel and open it again.
  3. Home, Add-ins, More Add-ins (or Insert, My Add-ins): choose SHARED FOLDER, Bendbook, Add.

Excel on a Mac
  1. mkdir -p ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef
  2. cp "${manifest}" ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef/
  3. Open Excel again and a workbook. Home, Add-ins (or Insert, the arrow beside My Add-ins): choose Bendbook under
     Developer Add-ins. It has to be chosen again each time Excel was closed.

Excel on the web, in a browser on this machine
  1. Open a workbook at office.com.
  2. Home, Add-ins, More Settings (or Insert, Office Add-ins, Manage My Add-ins), Upload My Add-in: choose
     ${manifest}
  3. Where the browser asks whether the page may reach devices or apps of this machine or network, allow it. The browser
     forgets the manifest when its data are cleared, and another browser does not have it: upload it again.

Then type =BANK.BEND(0.875) in a cell, or choose Bendbook on the Home tab.

If the pane stays empty or says that it cannot open from localhost
  - Is the certificate trusted? ${page} in the browser shows it.
  - Windows, where Excel still uses the older Edge WebView (EdgeHTML): it must be let reach this machine, once:
      npx office-addin-dev-settings appcontainer EdgeWebView --loopback --yes
    WebView2, which any newer Excel uses, needs nothing.
  - Chrome or Edge from version 142 on: choose the sign beside the address, allow Local network access, open the
    workbook anew. Where Excel on the web offers no such leave, give the add-in an address of its own:
      npm run excel -- --origin https://… --out DIR

If Excel shows an old version, old arguments or a removed add-in: clear its cache
  Windows  File, Options, Trust Center, Trust Center Settings, Trusted Add-in Catalogs: tick "Next time Office starts,
           clear all previously-started web add-ins cache" (from version 2108 on); close all of Office, open Excel.
           Or with Office closed: delete what is in %LOCALAPPDATA%\\Microsoft\\Office\\16.0\\Wef\\
  Mac      In the pane, the arrow or i in its top right corner, Clear Web Cache. Or with Excel closed: delete what is in
           ~/Library/Containers/com.microsoft.Excel/Data/Library/Caches/ and in
           ~/Library/Containers/com.microsoft.Excel/Data/Library/Application Support/Microsoft/Office/16.0/Wef/
           (the manifest of step 2 stays; remove it to remove the add-in).
  the web  Clear the browser's data of the site, upload the manifest again.

Leave this window open while you work; Ctrl-C ends it.
`;
}
